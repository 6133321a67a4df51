/** What the service worker shows, and where it leads. */
export interface Shown {
  readonly title: string
  readonly body: string
  readonly tag: string
  readonly lang: string
  /** Within this app. */
  readonly url: string
}

const NOTHING_SAID: Readonly<Record<string, unknown>> = {}

/**
 * Reads what a push message says. Browsers want something shown for each message, so that one which cannot be read still leads to
 * the app.
 *
 * @param text the message, decrypted by the browser; null where it has none
 * @param origin of this app: a path of another one is not followed
 */
export function notificationOf(text: string | null, origin: string): Shown {
  const said = parsed(text)
  const word = (key: string) => (typeof said[key] === 'string' ? (said[key] as string) : '')
  const url = URL.canParse(word('path') || '/', origin) ? new URL(word('path') || '/', origin) : new URL(origin)
  return {
    title: word('title') || 'Anode Ledger',
    body: word('body'),
    tag: word('tag'),
    lang: word('lang'),
    url: url.origin === origin ? url.href : `${origin}/`,
  }
}

function parsed(text: string | null): Readonly<Record<string, unknown>> {
  try {
    const content: unknown = JSON.parse(text ?? '')
    return typeof content === 'object' && content !== null ? (content as Record<string, unknown>) : NOTHING_SAID
  } catch {
    return NOTHING_SAID
  }
}
