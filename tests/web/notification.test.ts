import { describe, expect, it } from 'vitest'
import { notificationOf } from '../../src/web/offline/notification.js'

const ORIGIN = 'https://anodes.example.org'
const said = (part: object) =>
  notificationOf(JSON.stringify({ title: 'Wren', body: 'due', tag: 'w', lang: 'de', ...part }), ORIGIN)

describe('a notification', () => {
  it('says what was sent, and leads to a page of the app', () => {
    expect(said({ path: '/boats/M%C3%B6we' })).toEqual({
      title: 'Wren',
      body: 'due',
      tag: 'w',
      lang: 'de',
      url: `${ORIGIN}/boats/M%C3%B6we`,
    })
  })

  it.each(['https://evil.example/', '//evil.example/', 'javascript:alert(1)', '/\\evil.example', 'http://[', 7, null])(
    'does not lead to %j',
    (path) => {
      expect(said({ path }).url).toBe(`${ORIGIN}/`)
    },
  )

  it.each([null, '', 'no JSON', '[]', '7', 'null', '{"title":{}}'])('is shown even where the message is %j', (text) => {
    expect(notificationOf(text, ORIGIN)).toMatchObject({ title: 'Anode Ledger', body: '', url: `${ORIGIN}/` })
  })
})
