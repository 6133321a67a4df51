import { describe, expect, it } from 'vitest'
import { WEIGHING_EXAMPLE, WeighingView } from '../../src/contract/weighings.js'
import { correctionOf, figuresOf, typedFrom } from '../../src/web/pages/boat/weighings/correction.js'

const WEIGHING = WeighingView.parse(WEIGHING_EXAMPLE)
const REASON = 'read from the wrong line'

describe('a correction of a weighing', () => {
  it.each([
    ['g', '905'],
    ['kg', '0.905'],
    ['lb', '1.99518'],
    ['oz', '31.9229'],
  ] as const)('begins with what was logged, in %s', (unit, mass) => {
    expect(typedFrom(WEIGHING, unit)).toMatchObject({ weighedOn: '2031-10-02', figures: { massG: mass }, note: '' })
  })

  it('offers what was measured that way, and nothing else', () => {
    expect(figuresOf({ method: 'visual' })).toEqual(['wastedPercent'])
    expect(figuresOf({ method: 'dimensions' })).toEqual(['lengthMm', 'widthMm', 'heightMm'])
  })

  it('is none while nothing was changed, whatever the unit', () => {
    const typed = { ...typedFrom(WEIGHING, 'oz'), reason: REASON }
    expect(correctionOf(WEIGHING, typed)).toEqual({ body: { reason: REASON }, isChanged: false, problems: [] })
  })

  it('sends what was changed alone, with the unit it was typed in', () => {
    const typed = { ...typedFrom(WEIGHING, 'kg'), figures: { massG: '0,95' }, reason: REASON }
    expect(correctionOf(WEIGHING, typed).body).toEqual({ massG: { value: 0.95, unit: 'kg' }, reason: REASON })
  })

  it('takes the same figure in another unit for a change', () => {
    const typed = { ...typedFrom(WEIGHING, 'g'), unit: 'oz' as const }
    expect(correctionOf(WEIGHING, typed)).toMatchObject({
      isChanged: true,
      body: { massG: { value: 905, unit: 'oz' } },
    })
  })

  it('never makes a mass unknown because it was mistyped', () => {
    const typed = { ...typedFrom(WEIGHING, 'g'), figures: { massG: '9o5' }, reason: REASON }
    const { body, problems } = correctionOf(WEIGHING, typed)
    expect(body).toEqual({ reason: REASON })
    expect(problems).toMatchObject([{ pointer: '/massG' }])
  })

  it('takes a note away, and passes on that a doubt was looked at', () => {
    const noted = { ...WEIGHING, note: 'crusted' }
    const typed = { ...typedFrom(noted, 'g'), note: ' ', confirm: ['heavier-than-before' as const], reason: REASON }
    expect(correctionOf(noted, typed).body).toEqual({ note: null, confirm: ['heavier-than-before'], reason: REASON })
  })
})
