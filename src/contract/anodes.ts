import { z } from 'zod'
import { LengthMm, MassG, MassGOrZero } from './mass.js'
import { Day, Name, NameOrId, NamePart } from './names.js'
import { pageOf, pageQuery } from './paging.js'
import { ALLOYS, POSITION_KINDS, WEIGHING_METHODS } from './vocabulary.js'

const ANODE_EXAMPLE = {
  name: 'shaft 2',
  position: 'shaft',
  alloy: 'zinc',
  shape: 'shaft collar',
  fittedOn: '2031-04-18',
  removedOn: null,
  grossMassG: 1250,
  coreMassG: 80,
  lengthMm: 70,
  widthMm: 90,
  heightMm: 90,
  bonded: true,
}

const Shape = z
  .string()
  .trim()
  .min(1)
  .max(100)
  .meta({ examples: ['shaft collar', 'hull plate'] })

/** What is known of a piece, wherever it sits. */
export const anodePiece = {
  alloy: z.enum(ALLOYS).nullable().optional(),
  shape: Shape.nullable().optional(),
  grossMassG: MassG.nullable().optional().meta({ description: 'What the scale shows when new, core included' }),
  coreMassG: MassGOrZero.nullable()
    .optional()
    .meta({ description: 'Insert and fasteners weighed along, never consumed; 0 where there is none' }),
  lengthMm: LengthMm.nullable().optional(),
  widthMm: LengthMm.nullable().optional(),
  heightMm: LengthMm.nullable().optional(),
  bonded: z.boolean().nullable().optional().meta({ description: "Connected to the boat's bonding" }),
}

const PositionLabel = Name.meta({
  description: 'Where it sits; a label that starts with a kind of position ("hull port aft") counts as that kind',
  examples: ['shaft'],
})

const life = {
  fittedOn: Day.nullable().meta({ description: 'Day it was fitted; null where nobody knows' }),
  removedOn: Day.nullable().optional().meta({ description: 'Day it was removed; null: still there' }),
}

export const NewAnode = z.strictObject({ name: Name, position: PositionLabel, ...anodePiece, ...life }).meta({
  id: 'NewAnode',
  description:
    'An anode fitted at a position, made when it is new to the boat. Where all positions of this label are taken, another is added.',
  examples: [{ ...ANODE_EXAMPLE, grossMassG: { value: 1.25, unit: 'kg' } }],
})
export type NewAnode = z.infer<typeof NewAnode>

export const AnodeChange = z
  .strictObject({
    name: Name.optional(),
    position: PositionLabel.optional(),
    ...anodePiece,
    fittedOn: life.fittedOn.optional(),
    removedOn: life.removedOn,
  })
  .meta({
    id: 'AnodeChange',
    description: 'What to change; null makes a value unknown, what is left out stays.',
    examples: [{ coreMassG: 85, lengthMm: 70 }],
  })
export type AnodeChange = z.infer<typeof AnodeChange>

export const AnodeRemoval = z
  .strictObject({ removedOn: Day })
  .meta({ id: 'AnodeRemoval', examples: [{ removedOn: '2032-04-10' }] })
export type AnodeRemoval = z.infer<typeof AnodeRemoval>

export const AnodeView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    name: z.string(),
    position: z.string(),
    positionSlot: z.int().meta({ description: 'Tells two positions of one label apart, from 1' }),
    positionKind: z.enum(POSITION_KINDS),
    alloy: z.enum(ALLOYS).nullable(),
    shape: z.string().nullable(),
    fittedOn: z.iso.date().nullable(),
    removedOn: z.iso.date().nullable(),
    grossMassG: z.number().nullable(),
    coreMassG: z.number().nullable(),
    lengthMm: z.number().nullable(),
    widthMm: z.number().nullable(),
    heightMm: z.number().nullable(),
    bonded: z.boolean().nullable(),
    lastWeighing: z
      .object({
        weighedOn: z.iso.date(),
        method: z.enum(WEIGHING_METHODS),
        massG: z.number().nullable(),
        wastedPercent: z.number().nullable(),
      })
      .nullable()
      .meta({ description: 'Null before the first weighing' }),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({
    id: 'Anode',
    examples: [
      {
        id: '6f0b0b0e-4f0e-4a52-9a0c-52b1c1c7d3aa',
        boat: 'Marsh Harrier',
        ...ANODE_EXAMPLE,
        positionSlot: 1,
        positionKind: 'shaft',
        lastWeighing: { weighedOn: '2031-10-02', method: 'scale', massG: 905, wastedPercent: null },
        createdAt: '2031-04-18T09:30:00.000Z',
        version: 1,
      },
    ],
  })
export type AnodeView = z.infer<typeof AnodeView>

export const ANODE_SORTS = ['boat', 'name', 'position', 'fittedOn', 'removedOn', 'createdAt'] as const

export const AnodeOfBoatQuery = pageQuery(ANODE_SORTS).extend({
  alloy: z.enum(ALLOYS).optional(),
  positionKind: z.enum(POSITION_KINDS).optional(),
  inPlaceOn: Day.optional().meta({ description: 'Anodes that were on the boat on this day' }),
  q: NamePart.optional(),
})
export const AnodeQuery = AnodeOfBoatQuery.extend({ boat: NameOrId.optional() })
export type AnodeQuery = z.infer<typeof AnodeQuery>

export const AnodePage = pageOf(AnodeView)
export const AnodeParams = z.object({ boat: NameOrId, anode: NameOrId })
