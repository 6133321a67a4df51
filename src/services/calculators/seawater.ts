import { z } from 'zod'
import { corrosionRate } from '../../engine/electrochemistry/corrosion-rate.js'
import { salinityFromRatio, seawaterConductivity } from '../../engine/electrochemistry/seawater.js'
import { seawaterDensity } from '../../engine/electrochemistry/seawater-density.js'
import { calculator } from './calculator.js'
import { exactlyOne } from './field-rules.js'

const NO_SALT = 'Without salt this scale knows no conductivity, and so no resistivity: measure that of fresh water.'

export const seawaterCalculator = calculator({
  name: 'seawater',
  summary: 'Salinity, conductivity, resistivity and density of seawater (PSS-78, EOS-80)',
  input: exactlyOne(
    z.strictObject({
      salinityPsu: z.number().optional().describe('Practical salinity, 0 to 42 [psu]'),
      conductivityRatio: z
        .number()
        .optional()
        .describe('Instead of the salinity: conductivity over that of 35 psu, 15 °C, 0 dbar'),
      temperatureC: z.number().describe('Temperature by IPTS-68, −2 to 40 [°C]'),
      pressureDbar: z.number().default(0).describe('Pressure above the atmosphere, 0 to 10,000 [dbar]'),
    }),
    'salinityPsu',
    'conductivityRatio',
  ),
  output: z.object({
    salinityPsu: z.number().describe('Practical salinity [psu]'),
    conductivitySPerM: z.number().describe('Conductivity [S/m]'),
    resistivityOhmM: z.number().nullable().describe('Resistivity [Ω·m]; null without salt, and the note says why'),
    densityKgPerM3: z.number().describe('Density [kg/m³]'),
    note: z.string().optional().describe('Why a value is missing'),
  }),
  sources: ['unesco-44', 'culkin-smith-1980', 'hill-1986'],
  example: { salinityPsu: 35, temperatureC: 15, pressureDbar: 0 },
  compute: ({ salinityPsu, conductivityRatio, temperatureC, pressureDbar }) => {
    const salinity = salinityPsu ?? salinityFromRatio(conductivityRatio!, temperatureC, pressureDbar)
    const conductivity = seawaterConductivity(salinity, temperatureC, pressureDbar)
    const density = seawaterDensity(salinity, temperatureC, pressureDbar)
    const answer = { salinityPsu: salinity, conductivitySPerM: conductivity, densityKgPerM3: density }
    if (conductivity > 0) return { ...answer, resistivityOhmM: 1 / conductivity }
    return { ...answer, resistivityOhmM: null, note: NO_SALT }
  },
  fieldOf: {
    salinity: 'salinityPsu',
    'conductivity ratio': 'conductivityRatio',
    temperature: 'temperatureC',
    pressure: 'pressureDbar',
  },
})

export const corrosionRateCalculator = calculator({
  name: 'corrosion-rate',
  summary: 'Mean corrosion rate of a metal from the mass it lost (ASTM G1, G31)',
  input: z.strictObject({
    massLossG: z.number().describe('Mass lost [g]'),
    areaCm2: z.number().describe('Exposed surface [cm²]'),
    hours: z.number().describe('Time in the water [h]'),
    densityGPerCm3: z.number().describe('Density of the metal [g/cm³]'),
  }),
  output: z.object({ mmPerYear: z.number().describe('Thickness lost, on average over the surface [mm/year]') }),
  sources: ['astm-g1', 'astm-g31'],
  example: { massLossG: 485, areaCm2: 645.16, hours: 8760, densityGPerCm3: 7.9 },
  compute: (loss) => ({ mmPerYear: corrosionRate(loss) }),
  fieldOf: {
    'mass loss': 'massLossG',
    area: 'areaCm2',
    'time in the water': 'hours',
    density: 'densityGPerCm3',
  },
})
