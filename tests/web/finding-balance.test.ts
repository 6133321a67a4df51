import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { FindingItem } from '../../src/contract/findings.js'
import { balanceOf, sayOdds } from '../../src/web/pages/findings/balance-data.js'
import { sayLikelihood } from '../../src/web/wording/finding-words.js'
import { quoted } from './finding-of.js'

type RankedCause = FindingItem['causes'][number]

const causeOf = (cause: RankedCause['cause'], weights: readonly number[]): RankedCause => ({
  cause,
  probability: 0.5,
  evidence: weights.map((weight, index) => quoted(`sign-${index}`, `sign ${index}`, weight)),
})

describe('the balance of a cause', () => {
  it('puts what speaks for it on one side and what speaks against it on the other, the heaviest first', () => {
    const cause = causeOf('passivated', [0.4, -2, 1.5, 0.1])
    const { speaksFor, against, neither } = balanceOf(cause, [cause])
    expect(speaksFor.map(({ said }) => said)).toEqual(['sign 2', 'sign 0'])
    expect(against.map(({ said }) => said)).toEqual(['sign 1'])
    expect(neither.map(({ said }) => said)).toEqual(['sign 3'])
  })

  it('keeps one scale of lengths for all causes that may be it', () => {
    const [heavy, light] = [causeOf('passivated', [4]), causeOf('undersized', [-1])]
    expect(balanceOf(heavy, [heavy, light]).speaksFor[0]?.length).toBe(1)
    expect(balanceOf(light, [heavy, light]).against[0]?.length).toBe(0.25)
  })

  it('is not stretched by what rules a hardly possible cause out', () => {
    const likely = causeOf('passivated', [2])
    const ruledOut = { ...causeOf('undersized', [-9]), probability: 0.0001 }
    expect(balanceOf(likely, [likely, ruledOut]).speaksFor[0]?.length).toBe(1)
    expect(balanceOf(ruledOut, [likely, ruledOut]).against[0]?.length).toBe(1)
  })

  it('loses no piece of evidence, and no length leaves the scale', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -12, max: 12, noNaN: true }), { maxLength: 20 }), (weights) => {
        const cause = causeOf('undersized', weights)
        const { speaksFor, against, neither } = balanceOf(cause, [cause])
        expect(speaksFor.length + against.length + neither.length).toBe(weights.length)
        for (const { length } of [...speaksFor, ...against]) expect(length > 0 && length <= 1).toBe(true)
      }),
    )
  })

  // Bayes' rule in odds: posterior odds = prior odds × e^weights.
  it('starts from the probability before any evidence', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.02, max: 0.5, noNaN: true }),
        fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { maxLength: 5 }),
        (prior, weights) => {
          const odds = (prior / (1 - prior)) * Math.exp(weights.reduce((sum, each) => sum + each, 0))
          const cause = { ...causeOf('undersized', weights), probability: odds / (1 + odds) }
          expect(balanceOf(cause, [cause]).before).toBeCloseTo(prior, 9)
        },
      ),
    )
  })

  // A weight of evidence is the logarithm of a likelihood ratio (I. J. Good, 1950): ln 3.2 = 3.2 times likelier.
  it('says weights as odds', () => {
    expect(sayOdds(Math.log(3.2))).toBe('3.2 times likelier')
    expect(sayOdds(-Math.log(25))).toBe('25 times less likely')
    expect(sayOdds(Math.log(5e4))).toBe('over 1,000 times likelier')
    expect(sayOdds(0.01)).toBe('as likely as before')
  })
})

describe('a probability in words', () => {
  // IPCC, Fourth Assessment Report (2007), Working Group II, front matter, section F: the bounds of each word.
  it.each([
    [0.995, 'virtually certain'],
    [0.95, 'very likely'],
    [0.7, 'likely'],
    [0.4, 'about as likely as not'],
    [0.2, 'unlikely'],
    [0.05, 'very unlikely'],
    [0.005, 'exceptionally unlikely'],
  ])('%d is %s', (probability, words) => {
    expect(sayLikelihood(probability)).toBe(words)
  })
})
