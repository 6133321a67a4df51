import { haulOutTasks } from '../http/haul-out-tasks.js'
import type { BenchRequest, Recording } from '../http/record-requests.js'
import type { SentStatement } from '../http/recorded-sql.js'

/** A boat that fleets of every size have. */
const BOAT = 'Boat 3'
const PAGE = 20

/** Lists whose second page is read too. */
const LISTS = [
  '/v1/boats?sort=name',
  '/v1/boats?sort=-createdAt',
  '/v1/boats?water=salt',
  '/v1/boats?berth=Berth+3',
  '/v1/boats?q=oat+1',
  '/v1/anodes?sort=boat',
  '/v1/weighings?sort=-weighedOn',
  '/v1/haul-outs?sort=-hauledOn',
  '/v1/stays?sort=-fromOn',
  '/v1/forecasts?sort=recommendedOn',
  '/v1/findings?sort=-surprise',
  '/v1/desk/boats?sort=due',
  '/v1/notices',
]

/** Pages of one boat, of the desk, and what else is read often. */
const PAGES = [
  `/v1/boats?owner=owner-3@example.org`,
  `/v1/boats?q=Boat+11`,
  `/v1/boats/${BOAT}`,
  `/v1/anodes?boat=${BOAT}`,
  `/v1/weighings?boat=${BOAT}`,
  `/v1/haul-outs?boat=${BOAT}`,
  `/v1/boats/${BOAT}/haul-outs`,
  `/v1/boats/${BOAT}/stays`,
  `/v1/boats/${BOAT}/depletion`,
  `/v1/boats/${BOAT}/costs`,
  `/v1/boats/${BOAT}/galvanic-audit`,
  `/v1/findings?boat=${BOAT}`,
  '/v1/desk/calendar',
  '/v1/desk/comparisons',
  '/v1/desk/parts',
  '/v1/berths',
  '/v1/checks',
  '/v1/model',
  '/v1/reminders',
]

/** What one request or one turn of the background sent. */
export interface Exchange {
  readonly name: string
  readonly sent: readonly SentStatement[]
}

/** The main routes, each asked twice: what is kept in memory is sent for once, and what is sent each time is among both. */
export async function exchanges(recording: Recording, databaseUrl: string): Promise<Exchange[]> {
  const done: Exchange[] = []
  const read = async (name: string, url: string) => {
    const { sent, body } = await recording.request({ method: 'GET', url: encodeURI(url) })
    done.push({ name, sent })
    return JSON.parse(body) as { nextCursor?: string | null }
  }
  for (const list of LISTS) {
    const url = `${list}${list.includes('?') ? '&' : '?'}limit=${PAGE}`
    const { nextCursor } = await read(`GET ${list}`, url)
    if (nextCursor) await read(`GET ${list}, second page`, `${url}&cursor=${nextCursor}`)
  }
  for (const page of PAGES) await read(`GET ${page}`, page)
  const { services } = recording.service
  done.push({ name: 'letters that are due', sent: await recording.during(() => services.noticeSender.deliverDue()) })
  done.push({
    name: 'webhooks that are due',
    sent: await recording.during(() => services.webhookDeliverer.deliverDue()),
  })
  const haulOut = await haulOutOf(databaseUrl)
  done.push({ name: 'POST a haul-out', sent: (await recording.request(haulOut)).sent })
  return done
}

async function haulOutOf(databaseUrl: string): Promise<BenchRequest> {
  const [task] = await haulOutTasks(databaseUrl, new Date().toISOString().slice(0, 10), true)
  if (task === undefined) throw new Error('there is no boat to lift')
  return { method: 'POST', url: task.path, body: task.body, key: task.key }
}
