const SESSION = 'anode_ledger.session_token'
const ORGANISATION = 'anode_ledger_organisation'

/**
 * Browsers take a cookie of such a name from this host alone, over HTTPS, for all its paths and without a Domain: no other host beside it and
 * nothing without encryption can put one of its own in its place. Source: RFC 6265bis, "The __Host- Prefix".
 */
const THIS_HOST = '__Host-'
/** As sessions were named before, over HTTPS: a host beside this one could put in its own. */
const FORMER_SESSION = `__Secure-${SESSION}`
/**
 * A session that began later is never taken under the former name, so that none can be put in under it for ever. Half a year, for installations
 * to be brought up to date: convention.
 */
export const FORMER_NAME_ENDS = new Date('2027-06-01T00:00:00Z')

const isSecure = (publicUrl: string) => publicUrl.startsWith('https:')

/** What names begin with: over HTTP, as on one's own machine, browsers refuse the prefix. */
export const cookiePrefix = (publicUrl: string) => (isSecure(publicUrl) ? THIS_HOST : '')

/** The cookie that says in which of their organisations a person acts. */
export const organisationCookie = (publicUrl: string) => ({
  name: `${cookiePrefix(publicUrl)}${ORGANISATION}`,
  options: { path: '/', httpOnly: true, sameSite: 'lax', secure: isSecure(publicUrl) } as const,
})

/** Takes the session of the former name from a browser, with the sign-out and with each new session; nothing over HTTP, where there was none. */
export function withoutFormerSession(publicUrl: string): string[] {
  return isSecure(publicUrl) ? [`${FORMER_SESSION}=; Max-Age=0; Path=/; HttpOnly; Secure; SameSite=Lax`] : []
}

/** Cookies of a request, with the session under the name of today where there is only one of the former name. */
export function underTodaysName(cookies: string, publicUrl: string): { cookies: string; isFormer: boolean } {
  if (!isSecure(publicUrl) || cookieNamed(cookies, THIS_HOST + SESSION)) return { cookies, isFormer: false }
  const former = cookieNamed(cookies, FORMER_SESSION)
  if (!former) return { cookies, isFormer: false }
  return { cookies: `${cookies}; ${THIS_HOST}${SESSION}=${former}`, isFormer: true }
}

function cookieNamed(cookies: string, name: string): string | undefined {
  const pairs = cookies.split(';').map((pair) => pair.trim())
  return pairs.find((pair) => pair.startsWith(`${name}=`))?.slice(name.length + 1)
}
