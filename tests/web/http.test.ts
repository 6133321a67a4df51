import { afterEach, describe, expect, it, vi } from 'vitest'
import { z } from 'zod'
import { read, send } from '../../src/web/api/http.js'
import { OtherAnswer, ServiceProblem } from '../../src/web/api/problem.js'
import { sayAtStart } from '../../src/web/i18n/start-words.js'

const Answer = z.object({ mass: z.number() })

/** The network is the outside world of these pages. */
function answerWith(status: number, body: unknown) {
  const asked = vi.fn(async (_path: string, _init: RequestInit) => new Response(JSON.stringify(body), { status }))
  vi.stubGlobal('fetch', asked)
  return asked
}

afterEach(() => vi.unstubAllGlobals())

describe('asking the service', () => {
  it('gives what the schema makes of the answer', async () => {
    answerWith(200, { mass: 900, more: true })
    expect(await read(Answer, '/v1/any')).toEqual({ mass: 900 })
  })

  it('says in plain words that the page is older than the service', async () => {
    answerWith(200, { mass: '900' })
    const failed = read(Answer, '/v1/any')
    await expect(failed).rejects.toBeInstanceOf(OtherAnswer)
    await expect(failed).rejects.toThrow(/^The service is newer than this page\./)
  })

  it('gives the service’s own sentence where it refuses', async () => {
    answerWith(409, { title: 'Conflict', detail: 'the finding is resolved' })
    await expect(read(Answer, '/v1/any')).rejects.toEqual(
      new ServiceProblem(409, 'The finding is resolved.', undefined, []),
    )
  })

  it.each([
    [
      409,
      { detail: 'a boat of this name exists already', code: 'boat-name-taken' },
      'Ein Boot dieses Namens gibt es schon.',
    ],
    [412, { detail: 'the boat has been changed since it was read' }, /^Das hat inzwischen jemand geändert\./],
    [502, '<html>', 'Der Dienst antwortete mit 502.'],
    [422, { detail: 'threshold must be below 1' }, 'Weniger als 1: die Grenze.'],
    [422, { detail: 'the moon is full' }, 'The moon is full.'],
  ])(
    'says a refusal it knows (%s) in the reader’s language, any other as the service does',
    async (status, body, said) => {
      vi.stubGlobal('navigator', { languages: ['de-DE'] })
      // The few words of the start come a moment after the language is known.
      sayAtStart('answered')
      await vi.waitFor(() => expect(sayAtStart('answered')).toBe('Der Dienst antwortete mit'))
      answerWith(status, body)
      await expect(read(Answer, '/v1/any')).rejects.toThrow(said)
    },
  )

  it('takes a step once and on what was read', async () => {
    const asked = answerWith(200, { mass: 900 })
    await send(Answer, '/v1/any', { body: {}, idempotencyKey: 'once', basedOn: 3 })
    expect(new Headers(asked.mock.calls[0]?.[1].headers).get('if-match')).toBe('"3"')
    expect(new Headers(asked.mock.calls[0]?.[1].headers).get('idempotency-key')).toBe('once')
  })
})
