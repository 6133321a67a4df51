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

  it('sets words that are read from the right in the order of print, and leaves the others in theirs', () => {
    expect(printable('שלום ים Wren זורק')).toBe('ים שלום Wren זורק')
    expect(printable('Wren אבן 12')).toBe('Wren 12 אבן')
  })

  it('drops what nobody sees and cannot turn the line: line ends, marks of direction', () => {
    expect(printable('Wren\n\tof \u202egnikcart\u202c')).toBe('Wren of gnikcart')
  })

  it('neither loses nor adds a visible letter', () => {
    const word = fc.array(fc.constantFrom(...'abcאבגדسلام '), { maxLength: 30 }).map((letters) => letters.join(''))
    const letters = (text: string) => [...text.replaceAll(' ', '')].sort().join('')
    fc.assert(
      fc.property(word, (text) => {
        expect(letters(printable(text))).toBe(letters(text))
      }),
    )
  })
})
