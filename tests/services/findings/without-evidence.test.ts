import { describe, expect, it } from 'vitest'
import { FindingItem, FindingQuery } from '../../../src/contract/findings.js'
import { withoutEvidence } from '../../../src/services/findings/finding-items.js'
import { findingOf } from '../../web/finding-of.js'

describe('a finding for a list', () => {
  it('leaves out what weighs much and is read on its own page alone', () => {
    const whole = findingOf()
    const brief = FindingItem.parse(withoutEvidence(whole))
    expect(brief.causes.map(({ cause, probability }) => [cause, probability])).toEqual(
      whole.causes.map(({ cause, probability }) => [cause, probability]),
    )
    expect(brief.causes.flatMap(({ evidence }) => evidence)).toEqual([])
    expect(brief.nextCheck).toEqual({ ...whole.nextCheck, how: [], outcomes: [] })
    expect({ ...brief, causes: whole.causes, nextCheck: whole.nextCheck }).toEqual(whole)
  })

  it('is asked for by the query, and is whole unless asked', () => {
    expect(FindingQuery.parse({}).evidence).toBe('whole')
    expect(FindingQuery.parse({ evidence: 'none' }).evidence).toBe('none')
  })
})
