import type { CheckRow } from './diagnosis-checks.js'

const PRACTICE = { status: 'common practice', sources: ['boating-practice'], note: '' } as const
const NEAR_SHORE_POWER = ['electric-shock-drowning', 'keep-away', 'cutting-the-earth'] as const

/** Checks made with the boat in the water, at the berth. */
export const CHECKS_AFLOAT = [
  {
    key: 'unplug-shore-lead',
    observation: 'shore-lead-shift',
    needs: 'shore-power',
    title: 'Read the hull potential with the shore lead in, then out',
    how: [
      'Hang the reference electrode in the water by the hull, a metre down, and leave it for some minutes.',
      'Read the bonded hull against it with the shore lead connected and switched on.',
      'Switch the supply off at the pedestal, unplug the lead, wait five minutes and read again, electrode and clip untouched.',
    ],
    outcomes: {
      none: 'The reading moves by less than 20 mV.',
      slight: 'The reading moves by 20 to 40 mV.',
      clear: 'The reading moves by more than 40 mV.',
    },
    cautions: NEAR_SHORE_POWER,
    status: 'common practice',
    sources: ['troubleshooting-manual-p111', 'boating-practice'],
    note: '',
  },
  {
    key: 'switch-circuits-off',
    observation: 'circuit-shift',
    needs: 'own-circuits',
    title: 'Switch the circuits off one by one and watch the hull potential',
    how: [
      'Unplug the shore lead. Hang the reference electrode in the water by the hull and read the bonded hull.',
      'Switch the circuits on the panel off one at a time, the battery switch last; write the reading down at each.',
      'Include what is wired past the panel: bilge pumps, alarms, chargers.',
    ],
    outcomes: {
      none: 'No circuit moves the reading by 20 mV or more.',
      slight: 'One circuit moves the reading by 20 to 40 mV.',
      clear: 'One circuit moves the reading by more than 40 mV.',
    },
    cautions: ['electric-shock-drowning'],
    status: 'common practice',
    sources: ['troubleshooting-manual-p111', 'boating-practice'],
    note: '',
  },
  {
    key: 'clamp-shore-earth',
    observation: 'shore-earth-current',
    needs: 'shore-power',
    title: 'Have the direct current in the shore earth measured',
    how: [
      'A marine electrician puts a clamp meter for small direct currents round the earth wire of the shore lead, on board.',
      'Read with the lead connected and the neighbours plugged in as usual.',
    ],
    outcomes: {
      none: 'Less than a few milliamperes flow.',
      flows: 'Tens of milliamperes or more flow.',
    },
    cautions: NEAR_SHORE_POWER,
    ...PRACTICE,
  },
  {
    key: 'look-for-isolator',
    observation: 'isolator',
    needs: 'shore-power',
    title: 'Find out whether a galvanic isolator is fitted, and test it',
    how: [
      'Look along the shore earth between inlet and panel for an isolator or an isolation transformer.',
      'Have a marine electrician test one that is fitted: a unit that failed closed isolates nothing and counts as none.',
    ],
    outcomes: { fitted: 'One is fitted and works.', none: 'None is fitted, or it has failed.' },
    cautions: NEAR_SHORE_POWER,
    status: 'common practice',
    sources: ['boating-magazine-article', 'boating-practice'],
    note: '',
  },
  {
    key: 'read-fitting',
    observation: 'fitting-potential',
    needs: 'fitting',
    title: 'Read the potential of the fitting that the anode protects',
    how: [
      'Afloat, hang the reference electrode within a metre of the fitting.',
      'Touch the fitting itself, not the bonding wire, with the meter lead and read.',
    ],
    outcomes: {
      free: 'The metal stands at its own free potential: nothing protects it.',
      between: 'Some shift, less than 0.2 V below the free potential.',
      polarised: 'At least 0.2 V more negative than the free potential.',
    },
    cautions: ['electric-shock-drowning'],
    status: 'common practice',
    sources: ['troubleshooting-manual-p110', 'boating-practice'],
    note: '',
  },
  {
    key: 'read-hull',
    observation: 'hull-potential',
    needs: 'own-circuits',
    title: 'Read the potential of the bonded hull',
    how: [
      'Afloat, shore lead unplugged, hang the reference electrode in the water amidships for some minutes.',
      'Read the bonding system against it and note which electrode it is.',
    ],
    outcomes: {
      'not-negative-enough': 'Less negative than the hull asks for.',
      within: 'Within the limits of the hull.',
      'too-negative': 'More negative than the hull stands.',
    },
    cautions: ['electric-shock-drowning'],
    status: 'common practice',
    sources: ['boat-voltages-page', 'boating-practice'],
    note: '',
  },
  {
    key: 'compare-neighbours',
    observation: 'neighbours',
    needs: 'neighbours',
    title: 'Ask the neighbours on the pontoon',
    how: [
      'Weigh or look at the anodes of two or three boats near by at their next lift, or ask their owners how long theirs last.',
    ],
    outcomes: {
      usual: 'Theirs wear as usual.',
      somewhat: 'Theirs wear a little that way.',
      'same-way': 'Theirs wear in the same unusual way.',
    },
    cautions: [],
    ...PRACTICE,
  },
  {
    key: 'measure-salinity',
    observation: 'salinity-found',
    needs: 'water',
    title: 'Measure the salinity at the berth',
    how: [
      'Take water from half a metre down at low and at high tide and measure it with a refractometer or a conductivity meter.',
    ],
    outcomes: {
      'as-recorded': 'As recorded for the berth.',
      fresher: 'Clearly fresher than recorded, at least at times.',
      saltier: 'Clearly saltier than recorded.',
    },
    cautions: ['electric-shock-drowning'],
    ...PRACTICE,
  },
] as const satisfies readonly CheckRow[]
