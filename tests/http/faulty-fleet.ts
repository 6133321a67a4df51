import { fleetFiles } from './small-fleet.js'

/** Net mass lost in the last interval by anode, in place of what it would have lost [g]. */
export type Losses = Readonly<Record<string, number>>

/**
 * The small fleet, with berths on a pontoon and with other losses in the last interval of the anodes named ("Boat C/hull 3").
 *
 * @param at the day on which these anodes were weighed last
 */
export function faultyFleetFiles(ownerEmail: string, losses: Losses): Record<string, string> {
  const files = fleetFiles(ownerEmail)
  const weighings = files['weighings.csv']!.split('\n').map((line) => {
    const [boat, anode, day, mass, ...rest] = line.split(',')
    const loss = losses[`${boat}/${anode}`]
    return loss === undefined ? line : [boat, anode, day, mass && String(1080 - loss), ...rest].join(',')
  })
  const berths = ['berth,pontoon,water,shore_power', 'N1,N,salt,yes', 'N2,N,salt,yes', 'N3,S,salt,yes', 'N4,S,salt,yes']
  return { ...files, 'weighings.csv': weighings.join('\n'), 'berths.csv': `${berths.join('\n')}\n` }
}
