import { describe, expect, it } from 'vitest'
import { DIAGNOSIS_CHECKS } from '../../../src/engine/reference/diagnosis-checks.js'
import { allChecks } from '../../../src/services/findings/checks.js'

describe('the checks that can be recorded', () => {
  it('are all of the table, each outcome once, the unclear one last', () => {
    expect(allChecks().map(({ check }) => check)).toEqual(DIAGNOSIS_CHECKS.map(({ key }) => key))
    for (const { outcomes } of allChecks()) {
      const keys = outcomes.map(({ outcome }) => outcome)
      expect(new Set(keys).size).toBe(keys.length)
      expect(keys.at(-1)).toBe('unclear')
    }
  })

  it('keep the words of an unclear outcome that tells something', () => {
    const bath = allChecks().find(({ check }) => check === 'weigh-in-water')
    const own = DIAGNOSIS_CHECKS.find(({ key }) => key === 'weigh-in-water')?.outcomes.unclear
    expect(bath?.outcomes.at(-1)?.text).toBe(own)
  })
})
