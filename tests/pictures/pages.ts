import { BoatPage } from '../../src/contract/boats.js'
import { FindingPage } from '../../src/contract/findings.js'

type Side = { readonly side: 'phone' | 'desk'; readonly dark?: true }

export interface Picture {
  readonly name: string
  readonly path: string
  /** What stands on the page once it is whole. */
  readonly ready: string
  /** As whom the page is looked at; nobody is signed in on the first one. */
  readonly role?: 'staff' | 'manager' | 'owner'
  readonly sides: readonly Side[]
}

const BOTH: readonly Side[] = [{ side: 'phone' }, { side: 'desk' }]
const AND_DARK: readonly Side[] = [...BOTH, { side: 'phone', dark: true }]

/** Every page of the app, for a boat and a finding that the demo has. */
export async function picturesOf(address: string): Promise<Picture[]> {
  const cookie = await signedIn(address)
  const get = async (path: string) => (await fetch(address + path, { headers: { cookie } })).json()
  const [finding] = FindingPage.parse(await get('/v1/findings?limit=1')).items
  const boats = BoatPage.parse(await get('/v1/boats?limit=200')).items
  const boat = encodeURIComponent(finding?.boat ?? boats[0]?.name ?? '')
  const page = (
    name: string,
    path: string,
    ready: string,
    role: Picture['role'] = 'manager',
    sides = BOTH,
  ): Picture => ({
    name,
    path,
    ready,
    role,
    sides,
  })
  return [
    { name: 'sign-in', path: '/sign-in', ready: '.look-as button', sides: BOTH },
    page('lift', '/lift', '.lift-row', 'staff'),
    page('lift-boat', `/lift/${boat}`, '.badge', 'staff', AND_DARK),
    page('yours', '/yours', '.your-boat', 'owner', AND_DARK),
    page('fleet', '/', '.fleet-row', 'staff'),
    page('boat', `/boats/${boat}`, '.plot svg', 'manager', [...AND_DARK, { side: 'desk', dark: true }]),
    page('haul-out', `/boats/${boat}/haul-out`, '.anode-card', 'staff'),
    page('metals', `/boats/${boat}/galvanic`, '.series-bars rect'),
    page('desk', '/desk', '.desk-rows .desk-row', 'manager', [...BOTH, { side: 'desk', dark: true }]),
    page('findings', '/findings', '.finding-row'),
    page('finding', `/findings/${finding?.id ?? ''}`, '.finding .plot svg'),
    page('pontoons', '/pontoons', '.spine'),
    page('couples', '/galvanic', '.series-bars rect'),
    page('sizing', '/sizing', '.plot svg'),
    page('model', '/model', '.promises circle'),
    page('reference', '/reference', '.reference-list a'),
    page('settings', '/settings', 'h1'),
    page('letters', '/settings/letters', '.notice-row'),
    page('webhooks', '/settings/webhooks', 'h1'),
    page('prices', '/settings/prices', 'h1'),
    page('set-up', '/set-up/fleet', 'h1'),
    page('drawing', '/set-up/fleet?way=drawing', 'h1'),
    page('labels', '/set-up/labels', '.label-one'),
  ]
}

/** The cookies of somebody who sees all. */
async function signedIn(address: string): Promise<string> {
  const response = await fetch(`${address}/v1/demo/look-as`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: address },
    body: JSON.stringify({ role: 'manager' }),
  })
  return response.headers
    .getSetCookie()
    .map((cookie) => cookie.split(';')[0])
    .join('; ')
}
