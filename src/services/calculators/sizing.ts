import { z } from 'zod'
import { seawaterResistivity } from '../../engine/electrochemistry/seawater.js'
import { CURRENT_DEMAND, type CurrentDemandKey } from '../../engine/reference/current-demand.js'
import { ANODE_ALLOYS } from '../../engine/reference/vocabulary.js'
import { CRITERIA } from '../../engine/sizing/anode-count.js'
import {
  braceletResistance,
  flushPlateResistance,
  RESISTANCE_FORMULAS,
  shortSlenderResistance,
  slenderResistance,
} from '../../engine/sizing/anode-resistance.js'
import { COATINGS, lacksDensities, protectionCurrent } from '../../engine/sizing/protection-current.js'
import { requiredMass } from '../../engine/sizing/required-mass.js'
import { sizeAnodes } from '../../engine/sizing/size-anodes.js'
import { calculator } from './calculator.js'
import { exactlyOne, fieldsOfChoice } from './field-rules.js'

export const requiredMassCalculator = calculator({
  name: 'required-mass',
  summary: 'Net anode mass that gives a mean current over years',
  input: z.strictObject({
    currentA: z.number().describe('Mean current over the life [A]'),
    years: z.number().describe('Life, in years of 8760 h'),
    capacityAhPerKg: z.number().describe('Practical electrochemical capacity [A·h/kg]'),
    utilisation: z.number().describe('Utilisation factor, above 0 and at most 1'),
  }),
  output: z.object({ massKg: z.number().describe('Net mass [kg]') }),
  sources: ['rp-b401', 'pipeline-report', 'harbour-calculation'],
  example: { currentA: 0.02, years: 2, capacityAhPerKg: 780, utilisation: 0.8 },
  compute: ({ currentA, years, capacityAhPerKg, utilisation }) => ({
    massKg: requiredMass(currentA, years, capacityAhPerKg, utilisation),
  }),
  fieldOf: {
    current: 'currentA',
    life: 'years',
    capacity: 'capacityAhPerKg',
    utilisation: 'utilisation',
    mass: 'currentA',
  },
})

export const anodeResistanceCalculator = calculator({
  name: 'anode-resistance',
  summary: 'Resistance between an anode and the water (modified Dwight, Lloyd, McCoy)',
  input: fieldsOfChoice(
    z.strictObject({
      formula: z
        .enum(RESISTANCE_FORMULAS)
        .describe('slender: L ≥ 4r; short-slender: L < 4r; bracelet: any on the metal'),
      resistivityOhmM: z.number().describe('Resistivity of the water [Ω·m]'),
      lengthM: z.number().optional().describe('Length of a rod [m]'),
      radiusM: z.number().optional().describe('Radius of a rod; perimeter/2π of another section [m]'),
      meanSideM: z.number().optional().describe('Mean of length and width of a plate [m]'),
      exposedAreaM2: z.number().optional().describe('Surface of a bracelet that the water reaches [m²]'),
    }),
    'formula',
    {
      slender: ['lengthM', 'radiusM'],
      'short-slender': ['lengthM', 'radiusM'],
      'flush-plate': ['meanSideM'],
      bracelet: ['exposedAreaM2'],
    },
  ),
  output: z.object({ ohm: z.number().describe('Resistance [Ω]') }),
  sources: ['rp-b401', 'anode-r-note', 'pipeline-report', 'mil-hdbk-1004-10-p211'],
  example: { formula: 'slender', resistivityOhmM: 0.3, lengthM: 1, radiusM: 0.05 },
  compute: ({ formula, resistivityOhmM, lengthM, radiusM, meanSideM, exposedAreaM2 }) => {
    if (formula === 'slender') return { ohm: slenderResistance(resistivityOhmM, lengthM!, radiusM!) }
    if (formula === 'short-slender') return { ohm: shortSlenderResistance(resistivityOhmM, lengthM!, radiusM!) }
    if (formula === 'flush-plate') return { ohm: flushPlateResistance(resistivityOhmM, meanSideM!) }
    return { ohm: braceletResistance(resistivityOhmM, exposedAreaM2!) }
  },
  fieldOf: {
    resistivity: 'resistivityOhmM',
    length: 'lengthM',
    radius: 'radiusM',
    'mean side': 'meanSideM',
    'exposed area': 'exposedAreaM2',
    resistance: 'resistivityOhmM',
  },
})

const SURFACES = CURRENT_DEMAND.map((row) => row.key) as [CurrentDemandKey, ...CurrentDemandKey[]]
const metres = z.number().positive()

const Shape = z.discriminatedUnion('shape', [
  z.strictObject({
    shape: z.literal('rod').describe('A rod held clear of the metal'),
    lengthM: metres,
    radiusM: metres,
    coreRadiusM: z.number().nonnegative().default(0),
    distanceM: z.number().default(0.3).describe('From the metal, at least 0.15 [m]'),
  }),
  z.strictObject({
    shape: z.literal('plate').describe('A plate on the metal'),
    lengthM: metres,
    widthM: metres,
    thicknessM: metres,
  }),
  z.strictObject({
    shape: z.literal('other').describe('A bracelet, disc, shaft collar or hub cone'),
    massKg: z.number().positive().describe('Net mass [kg]'),
    exposedAreaM2: z.number().positive().describe('Surface that the water reaches [m²]'),
  }),
])

const Current = z.strictObject({
  initialA: z.number().nonnegative(),
  meanA: z.number().positive(),
  finalA: z.number().nonnegative(),
})

const Input = z.strictObject({
  areas: z
    .array(
      z.strictObject({
        surface: z.enum(SURFACES),
        areaM2: z.number().positive(),
        coating: z.enum(COATINGS).default('none').describe('Category of the coating on bare metal'),
      }),
    )
    .min(1)
    .max(100)
    .optional()
    .describe('Protected surfaces'),
  current: Current.optional().describe('Currents asked for, instead of surfaces [A]'),
  years: z.number().describe('Life wanted, in years of 8760 h'),
  alloy: z.enum(ANODE_ALLOYS),
  resistivityOhmM: z.number().optional().describe('Resistivity of the water [Ω·m]'),
  salinityPsu: z.number().optional().describe('Salinity of the water, instead of its resistivity [psu]'),
  temperatureC: z.number().default(15).describe('Temperature of the water, with its salinity [°C]'),
  anode: Shape.describe('Shape and size of one anode when new [m]'),
})

const Resistance = z.object({ ohm: z.number(), formula: z.enum(RESISTANCE_FORMULAS) })

export const sizingCalculator = calculator({
  name: 'sizing',
  summary: 'Number of anodes for a life: by mass, by initial and by final current',
  input: exactlyOne(exactlyOne(Input, 'areas', 'current'), 'resistivityOhmM', 'salinityPsu'),
  output: z.object({
    number: z.number().int(),
    decidedBy: z.enum(CRITERIA),
    criteria: z.array(z.object({ criterion: z.enum(CRITERIA), raw: z.number(), number: z.number().int() })),
    current: z.object(Current.shape).describe('What protection asks for [A]'),
    requiredMassKg: z.number(),
    totalMassKg: z.number(),
    lifeYears: z.number().describe('Life of that number by their mass'),
    utilisation: z.number(),
    capacityAhPerKg: z.number(),
    drivingVoltageV: z.number(),
    resistivityOhmM: z.number(),
    anode: z.object({
      massKg: z.number(),
      initial: Resistance,
      final: Resistance,
      initialCurrentA: z.number(),
      finalCurrentA: z.number(),
    }),
    takenAsMean: z.array(z.enum(SURFACES)).describe('Surfaces without an initial or final density of their own'),
  }),
  sources: ['rp-b401', 'harbour-calculation', 'anode-r-note', 'handbook-range', 'unesco-44'],
  example: {
    areas: [{ surface: 'bare-steel-temperate', areaM2: 12, coating: 'II' }],
    years: 2,
    alloy: 'aluminium',
    salinityPsu: 32,
    temperatureC: 12,
    anode: { shape: 'plate', lengthM: 0.3, widthM: 0.15, thicknessM: 0.04 },
  },
  compute: (input) => {
    const { areas, years, alloy, anode } = input
    const current = areas === undefined ? input.current! : protectionCurrent(areas, years)
    const resistivityOhmM = input.resistivityOhmM ?? seawaterResistivity(input.salinityPsu!, input.temperatureC)
    const { criteria, ...sizing } = sizeAnodes({ current, years, alloy, resistivityOhmM, anode })
    const takenAsMean = [...new Set(areas?.map(({ surface }) => surface).filter(lacksDensities))]
    return { ...sizing, criteria: [...criteria], current, resistivityOhmM, takenAsMean }
  },
  fieldOf: {
    life: 'years',
    'coating age': 'years',
    coating: 'areas',
    area: 'areas',
    areas: 'areas',
    resistivity: 'resistivityOhmM',
    salinity: 'salinityPsu',
    temperature: 'temperatureC',
  },
  otherwise: 'anode',
})
