import { z } from 'zod'
import { POTENTIAL_VERDICTS } from '../engine/galvanic/judged-potentials.js'
import { OVERPROTECTION_VERDICTS } from '../engine/galvanic/overprotection.js'
import { PROTECTION_VERDICTS } from '../engine/galvanic/protection.js'
import { QUESTION_KEYS } from '../engine/galvanic/questions.js'
import { PAIR_GRADES } from '../engine/reference/galvanic-grades.js'
import { GALVANIC_METALS } from '../engine/reference/galvanic-series.js'
import { unknownMetal } from './metals.js'
import { SourceView } from './reference.js'
import { SaidView, saidFields } from './said.js'
import { ALLOYS, HULLS, WATERS } from './vocabulary.js'

/** A key of the galvanic series, as its own type; refused with the keys that come close. */
export const SeriesMetal = z.enum(GALVANIC_METALS, {
  error: ({ input }) => (typeof input === 'string' ? unknownMetal(input) : 'must be a key of the galvanic series'),
})

export const GRADES = [...PAIR_GRADES, 'unknown'] as const
const Grade = z.enum(GRADES).describe('unknown: what is on record leaves more than one grade open')

const volts = (what: string) => z.number().describe(`${what} [V against silver/silver chloride in seawater]`)

export const DeltaVolts = z
  .object({ low: z.number(), high: z.number() })
  .describe('Difference of the free potentials in flowing seawater, as the ranges of the series leave it [V]')

const Reasons = z.array(SaidView).describe('The sentences of the reason, in order')

const couple = {
  areRolesCertain: z.boolean().describe('False where the ranges overlap: either may be the anode'),
  deltaVolts: DeltaVolts,
  typicalVolts: z.number().describe('Difference of the middles of the ranges, which the grade goes by [V]'),
  areaRatio: z
    .number()
    .nullable()
    .describe('Area of the cathode over that of the anode; null where one is unknown [–]'),
  grade: Grade,
  reason: z.string(),
  reasons: Reasons,
}

const FilmLost = z
  .array(
    z.object({ active: z.string().describe('The row of the metal without its film'), anode: z.string(), ...couple }),
  )
  .describe('The pair judged again without a passive film, over its whole area')

const Side = z.object({ metal: z.string(), areaCm2: z.number().nullable() })

/** One pair of the calculator `couple`. */
export const CouplePair = z.object({ cathode: Side, anode: Side, ...couple, whenFilmLost: FilmLost })
export type CouplePair = z.infer<typeof CouplePair>

const BoatSide = Side.extend({
  fittings: z.array(z.string()),
  exposedCm2: z.number().nullable().describe('With painted surfaces at the share that a year-old paint leaves exposed'),
})

const AuditPairView = z.object({
  cathode: BoatSide,
  anode: BoatSide,
  connection: z.enum(['connected', 'not-recorded']),
  exposedRatio: z.number().nullable().describe('Ratio of the exposed areas, which the grade goes by [–]'),
  ...couple,
  whenFilmLost: FilmLost,
})

const Criterion = z.object({
  metal: z.string(),
  condition: z.string(),
  status: z.string(),
  note: z.string(),
})

const ProtectionView = z.object({
  alloy: z.enum(ALLOYS),
  isFitted: z.boolean(),
  anodeV: volts('Closed-circuit potential of the alloy'),
  suitsWater: z.enum(['yes', 'limited', 'no']).nullable().describe('null where the water is not known'),
  verdict: z.enum(PROTECTION_VERDICTS),
  reason: z.string(),
  reasons: Reasons,
  metals: z.array(
    z.object({
      metal: z.string(),
      fittings: z.array(z.string()),
      protectedAtV: volts('Protected at this potential or a more negative one'),
      marginV: z.number().describe('How far the anode lies below that; negative where it does not reach it [V]'),
      criterion: Criterion,
    }),
  ),
})

const OverprotectionView = z.object({
  alloy: z.enum(ALLOYS),
  hull: z.enum(HULLS).nullable().describe('Given where the limit is of the whole hull'),
  metal: z.string().nullable().describe('Given where the limit is of a metal'),
  fittings: z.array(z.string()),
  limitV: volts('Harm beyond this potential'),
  anodeV: volts('Closed-circuit potential of the alloy'),
  verdict: z.enum(OVERPROTECTION_VERDICTS),
  reason: z.string(),
  reasons: Reasons,
  criterion: Criterion,
})

const PotentialJudgement = z.object({
  measuredAt: z.iso.datetime(),
  fitting: z.string().nullable().describe('null: the bonded hull'),
  voltsAgAgcl: volts('The reading, converted').nullable(),
  verdict: z.enum(POTENTIAL_VERDICTS),
  reason: z.string(),
  reasons: Reasons,
  criterion: Criterion.nullable(),
})

const Note = z.object({
  key: z.string(),
  fittings: z.array(z.string()).describe('The parts that give reason for it; none: the boat as a whole'),
  text: z.string(),
  status: z.string(),
})

const EXAMPLE = {
  boat: 'Marsh Harrier',
  berth: 'B14',
  water: 'salt',
  hull: 'grp',
  metals: [],
  pairs: [
    {
      cathode: { metal: 'stainless-316-passive', areaCm2: 1900, exposedCm2: 1900, fittings: ['shaft'] },
      anode: { metal: 'manganese-bronze', areaCm2: 1450, exposedCm2: 1450, fittings: ['propeller'] },
      connection: 'connected',
      areRolesCertain: true,
      deltaVolts: { low: 0.16, high: 0.34 },
      typicalVolts: 0.25,
      areaRatio: 1.31,
      exposedRatio: 1.31,
      grade: 'fair',
      reason:
        'Of the two, manganese bronze (a high-zinc brass) is the anode: 0.16 to 0.34 V below stainless steel 316, 317 passive, 0.25 V between the middles. The nobler metal has 1.3 times the area of the anode, which makes it neither better nor worse.',
      reasons: [
        {
          code: 'pair/apart',
          values: {
            cathode: 'stainless-316-passive',
            anode: 'manganese-bronze',
            low: 0.16,
            high: 0.34,
            middle: 0.25,
          },
        },
        { code: 'areas/larger-cathode', values: { times: 1.31 } },
      ],
      whenFilmLost: [],
    },
  ],
  protection: [],
  overprotection: [],
  potentials: [],
  notes: [],
  questions: [],
  sources: [{ key: 'anodic-index-pages', title: 'Several public engineering pages on the anodic index', read: 'read' }],
}

export const GalvanicAuditView = z
  .object({
    boat: z.string(),
    berth: z.string().nullable().describe('Where the boat lies, or lay last'),
    water: z.enum(WATERS).nullable(),
    hull: z.enum(HULLS).nullable(),
    metals: z.array(
      BoatSide.extend({
        connection: z.enum(['connected', 'not-recorded', 'alone']).describe('alone: joined to no other part'),
      }),
    ),
    pairs: z.array(AuditPairView).describe('Each two metals that metal joins in the same water, worst first'),
    protection: z.array(ProtectionView).describe('What each anode alloy can do for the metals joined to the anodes'),
    overprotection: z
      .array(OverprotectionView)
      .describe('Whether the fitted alloys can drive a hull or a metal too far'),
    potentials: z.array(PotentialJudgement).describe('The latest reading of each metal and of the bonded hull'),
    notes: z.array(Note),
    questions: z
      .array(
        z.object({ key: z.enum(QUESTION_KEYS), about: z.string().nullable(), question: z.string(), ...saidFields }),
      )
      .describe('What the record lacks, or what cannot be as it stands'),
    sources: z.array(SourceView),
  })
  .meta({ id: 'GalvanicAudit', examples: [EXAMPLE] })
export type GalvanicAuditView = z.infer<typeof GalvanicAuditView>
