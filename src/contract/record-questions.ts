import { z } from 'zod'
import { QUESTION_KINDS } from '../engine/diagnosis/evidence/record-question.js'
import { saidFields } from './said.js'

const EXAMPLE = {
  boat: 'Marsh Harrier',
  items: [
    {
      kind: 'potential' as const,
      about: 'propeller',
      on: '2026-04-09',
      question: 'propeller read +0.94 V against silver/silver chloride in seawater. Was the minus sign dropped?',
      code: 'potential/sign',
      values: { fitting: 'propeller', volts: 0.94, electrode: 'ag-agcl-seawater' },
    },
  ],
}

/** What of a boat's record cannot be, or cannot be together. */
export const RecordQuestionsView = z
  .object({
    boat: z.string(),
    items: z
      .array(
        z.object({
          kind: z
            .enum(QUESTION_KINDS)
            .describe('look: condition codes; density: masses in air and under water; water: of a berth'),
          about: z.string().nullable().describe('Fitting, anode, pair or berth; null is the bonded hull'),
          on: z.iso.date().nullable().describe('Day of the record; null of what has none'),
          question: z.string(),
          ...saidFields,
        }),
      )
      .describe('The newest first, what has no day last'),
  })
  .meta({
    id: 'RecordQuestionsView',
    description: 'Readings to look at again: none of them counts as evidence of anything until it is put right.',
    examples: [EXAMPLE],
  })
export type RecordQuestionsView = z.infer<typeof RecordQuestionsView>
