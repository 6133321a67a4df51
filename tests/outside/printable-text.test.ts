import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { printable } from '../../src/outside/paper/printable-text.js'

describe('text on paper', () => {
  it('leaves names of the typeface’s own letters as they are', () => {
    for (const name of ['Marsh Harrier', 'Ægir’s Ørn', 'Ναυσικά', 'Чайка']) expect(printable(name)).toBe(name)
  })

  it('prints a box for a picture, one for a picture of several parts', () => {
    expect(printable('Wren 🚤')).toBe('Wren ▯')
    expect(printable('👩‍🚀 👍🏽')).toBe('▯ ▯')
  })

  it('joins words that are read from the right, for the typeface to turn, and leaves the others in their order', () => {
    expect(printable('שלום ים')).toBe('שלום\u00a0ים')
    expect(printable('Wren שלום ים')).toBe('Wren שלום\u00a0ים')
    expect(printable('Wren אבן 12')).toBe('Wren 12 אבן')
    expect(printable('שלום زورق')).toBe('\u00a0زورق שלום')
  })

  it('drops what nobody sees and cannot turn the line: line ends, marks of direction', () => {
    expect(printable('Wren\n\tof \u202egnikcart\u202c')).toBe('Wren of gnikcart')
  })

  it('neither loses nor adds a visible letter', () => {
    const word = fc.array(fc.constantFrom(...'abcאבגדسلام '), { maxLength: 30 }).map((letters) => letters.join(''))
    const letters = (text: string) => [...text.replace(/[ \u00a0]/g, '')].sort().join('')
    fc.assert(
      fc.property(word, (text) => {
        expect(letters(printable(text))).toBe(letters(text))
      }),
    )
  })
})
