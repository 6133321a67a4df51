import { z } from 'zod'
import { alloyProbabilities, metalDensityOf, waterDensityOf } from '../../engine/electrochemistry/density.js'
import { convertPotential } from '../../engine/electrochemistry/electrode.js'
import { meanCurrent, theoreticalCapacity } from '../../engine/electrochemistry/faraday.js'
import { designAlloy } from '../../engine/reference/anode-alloys.js'
import { USUAL_SCALE_STEP } from '../../engine/reference/scales.js'
import { ANODE_ALLOYS, CONVERTIBLE_SCALES } from '../../engine/reference/vocabulary.js'
import { calculator } from './calculator.js'
import { exactlyOne } from './field-rules.js'

export const theoreticalCapacityCalculator = calculator({
  name: 'theoretical-capacity',
  summary: 'Charge that a kilogram of a metal gives when all of it dissolves (Faraday)',
  input: z.strictObject({
    valence: z.number().describe('Electrons given up per atom, at least 1'),
    molarMassGPerMol: z.number().describe('Molar mass [g/mol]'),
  }),
  output: z.object({ capacityAhPerKg: z.number().describe('Theoretical electrochemical capacity [A·h/kg]') }),
  sources: ['tp-17', 'codata-2018'],
  example: { valence: 2, molarMassGPerMol: 65.38 },
  compute: ({ valence, molarMassGPerMol }) => ({ capacityAhPerKg: theoreticalCapacity(valence, molarMassGPerMol) }),
  fieldOf: { valence: 'valence', 'molar mass': 'molarMassGPerMol' },
})

export const meanCurrentCalculator = calculator({
  name: 'mean-current',
  summary: 'Mean current that an anode gave, from the mass it lost',
  input: exactlyOne(
    z.strictObject({
      alloy: z.enum(ANODE_ALLOYS).optional().describe('Alloy; its design capacity is taken'),
      capacityAhPerKg: z
        .number()
        .optional()
        .describe('Practical electrochemical capacity, instead of the alloy [A·h/kg]'),
      massLossG: z.number().describe('Mass lost [g]'),
      days: z.number().describe('Days in the water'),
    }),
    'alloy',
    'capacityAhPerKg',
  ),
  output: z.object({ currentA: z.number().describe('Mean current [A]') }),
  sources: ['tp-17', 'rp-b401'],
  example: { alloy: 'aluminium', massLossG: 310, days: 200 },
  compute: ({ alloy, capacityAhPerKg, massLossG, days }) => {
    const capacity = alloy === undefined ? capacityAhPerKg! : designAlloy(alloy).practicalAhPerKg
    return { currentA: meanCurrent(capacity, massLossG, days) }
  },
  fieldOf: { capacity: 'capacityAhPerKg', 'mass loss': 'massLossG', 'time in the water': 'days' },
})

/** No metal in water reaches this potential; a larger number was read in millivolts. */
const HIGHEST_POTENTIAL_V = 10
const NOT_VOLTS = `must be within ±${HIGHEST_POTENTIAL_V} V; was it read in millivolts?`

export const electrodeCalculator = calculator({
  name: 'electrode',
  summary: 'A potential as another reference electrode would show it',
  input: z.strictObject({
    volts: z
      .number()
      .min(-HIGHEST_POTENTIAL_V, NOT_VOLTS)
      .max(HIGHEST_POTENTIAL_V, NOT_VOLTS)
      .describe('Potential as measured [V]'),
    from: z.enum(CONVERTIBLE_SCALES).describe('Reference electrode of the measurement'),
    to: z.enum(CONVERTIBLE_SCALES).describe('Reference electrode of the answer'),
  }),
  output: z.object({ volts: z.number().describe('Potential against the other electrode [V]') }),
  sources: ['int-j-corrosion-table-2', 'mp-reference-article', 'en-12473'],
  example: { volts: -0.8, from: 'ag-agcl-seawater', to: 'cse' },
  compute: ({ volts, from, to }) => ({ volts: convertPotential(volts, from, to) }),
  fieldOf: { potential: 'volts' },
})

export const densityCalculator = calculator({
  name: 'density',
  summary: 'Density of an anode from its mass dry and under water, and the alloy it speaks for',
  input: exactlyOne(
    z.strictObject({
      dryG: z.number().describe('Mass in air, core included [g]'),
      submergedG: z.number().describe('Mass hanging under water, core included [g]'),
      waterDensityGPerCm3: z.number().optional().describe('Density of the water [g/cm³]'),
      submergedIn: z.enum(['salt', 'fresh']).optional().describe('Kind of water, instead of its density'),
      coreMassG: z.number().default(0).describe('Mass of the steel core and fasteners [g]'),
      resolutionG: z.number().default(USUAL_SCALE_STEP.grams).describe('Smallest step of the scale [g]'),
    }),
    'waterDensityGPerCm3',
    'submergedIn',
  ),
  output: z.object({
    densityGPerCm3: z.number().describe('Density of the metal without its core [g/cm³]'),
    sd: z.number().describe('Its standard deviation [g/cm³]'),
    alloys: z
      .array(z.object({ alloy: z.enum(ANODE_ALLOYS), probability: z.number() }))
      .describe('Anode alloys, most probable first; the probabilities sum to 1 among them'),
  }),
  sources: ['cci-notes-9-10', 'unesco-44', 'public-density-tables', 'gum-f-2-2-1'],
  example: { dryG: 500, submergedG: 428.2, submergedIn: 'salt', coreMassG: 0, resolutionG: 0.1 },
  compute: ({ dryG, submergedG, waterDensityGPerCm3, submergedIn, coreMassG, resolutionG }) => {
    const water = submergedIn === undefined ? { value: waterDensityGPerCm3!, sd: 0 } : waterDensityOf(submergedIn)
    const density = metalDensityOf({ dryG, submergedG, water, coreMassG, resolutionG })
    return { densityGPerCm3: density.value, sd: density.sd, alloys: [...alloyProbabilities(density)] }
  },
  fieldOf: {
    'dry mass': 'dryG',
    'submerged mass': 'submergedG',
    'core mass': 'coreMassG',
    resolution: 'resolutionG',
    'water density': 'waterDensityGPerCm3',
  },
})
