import { z } from 'zod'

/** Where a published value comes from, and how far that was read. */
export const SourceView = z
  .object({ key: z.string(), title: z.string(), read: z.string().describe('How far the source was read') })
  .meta({
    id: 'Source',
    examples: [{ key: 'tp-17', title: 'Tri-Services Electrical TP-17, Feb. 2017', read: 'read' }],
  })
export type SourceView = z.infer<typeof SourceView>

const HEAD_EXAMPLE = {
  name: 'galvanic-series',
  title: 'Galvanic series',
  description: 'Free corrosion potentials in flowing seawater, most noble first.',
}

export const ReferenceTableHead = z
  .object({ name: z.string(), title: z.string(), description: z.string(), rows: z.int() })
  .meta({ id: 'ReferenceTableHead', examples: [{ ...HEAD_EXAMPLE, rows: 47 }] })
export type ReferenceTableHead = z.infer<typeof ReferenceTableHead>

export const ReferenceIndex = z
  .object({ items: z.array(ReferenceTableHead) })
  .meta({ id: 'ReferenceIndex', examples: [{ items: [{ ...HEAD_EXAMPLE, rows: 47 }] }] })
export type ReferenceIndex = z.infer<typeof ReferenceIndex>

const Cell = z.union([z.string(), z.number(), z.boolean(), z.null(), z.array(z.union([z.string(), z.number()]))])

export const ReferenceRow = z
  .object({
    values: z.record(z.string(), Cell).describe('By the keys of the columns; what a row does not have is null'),
    status: z.string().describe('How far the row can be trusted: see docs/sources.md'),
    sources: z.array(z.string()).describe('Keys of the sources below'),
    note: z.string(),
  })
  .meta({
    id: 'ReferenceRow',
    examples: [
      {
        values: { key: 'zinc', name: 'Zinc', group: 'zinc', state: null, lowVSce: -1.03, highVSce: -0.98 },
        status: 'verified',
        sources: ['aca-flowing-seawater'],
        note: '',
      },
    ],
  })
export type ReferenceRow = z.infer<typeof ReferenceRow>

export const ReferenceTable = z
  .object({
    ...ReferenceTableHead.shape,
    columns: z.array(
      z.object({
        key: z.string(),
        label: z.string(),
        unit: z.string().nullable().describe('null for words and ratios'),
      }),
    ),
    items: z.array(ReferenceRow),
    sources: z.array(SourceView),
  })
  .meta({
    id: 'ReferenceTable',
    examples: [
      {
        ...HEAD_EXAMPLE,
        rows: 1,
        columns: [{ key: 'lowVSce', label: 'Low', unit: 'V SCE' }],
        items: [{ values: { lowVSce: -1.03 }, status: 'verified', sources: ['aca-flowing-seawater'], note: '' }],
        sources: [{ key: 'aca-flowing-seawater', title: 'Australasian Corrosion Association', read: 'read' }],
      },
    ],
  })
export type ReferenceTable = z.infer<typeof ReferenceTable>
