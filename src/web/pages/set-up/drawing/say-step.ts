import type { DrawingWords } from './drawing-words.js'
import { type Harbour, whereIs } from './harbour.js'
import type { Step } from './steps.js'

/** What was done, for those who do not see it. @param before the harbour before the step */
export function sayStep(t: DrawingWords, before: Harbour, step: Step): string {
  switch (step.kind) {
    case 'add-pontoon':
      return t('said.added', { name: step.name, count: step.left.length + step.right.length })
    case 'put-berth':
      return t('said.put', {
        name: berthName(before, step.berth),
        pontoon: pontoonName(before, step.pontoon),
        side: t(`side.${step.side}`),
        place: step.index + 1,
      })
    case 'add-berth':
      return t('said.berth', {
        name: step.name,
        pontoon: pontoonName(before, step.pontoon),
        side: t(`side.${step.side}`),
      })
    case 'rename-berth':
      return t('said.renamed', { before: berthName(before, step.berth), name: step.name })
    case 'rename-pontoon':
      return t('said.renamed', { before: pontoonName(before, step.pontoon), name: step.name })
    case 'take-berth':
    case 'remove-berth':
      return t('said.taken', { name: berthName(before, step.berth) })
    case 'take-pontoon':
      return t('said.taken', { name: pontoonName(before, step.pontoon) })
    case 'draw-pontoon':
    case 'set-line':
    case 'turn-round':
      return t('said.changed', { name: pontoonName(before, step.pontoon) })
  }
}

function berthName(harbour: Harbour, key: string): string {
  return whereIs(harbour, key)?.berth.name ?? ''
}

function pontoonName({ pontoons, waiting }: Harbour, key: string): string {
  const group = waiting.find(({ pontoon }) => pontoon?.key === key)
  return pontoons.find((pontoon) => pontoon.key === key)?.name ?? group?.pontoon?.name ?? ''
}
