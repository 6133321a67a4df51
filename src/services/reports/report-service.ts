import type { HaulOutDetail } from '../../contract/haul-outs.js'
import { writeHaulOutReport } from '../../outside/paper/haul-out-report.js'
import type { PaperReading } from '../../outside/paper/paper-words.js'
import { nextLiftOf } from '../../presentation/next-lift.js'
import type { Actor } from '../actor.js'
import { NotFound } from '../errors.js'
import type { FindingService } from '../findings/finding-service.js'
import type { BoatService } from '../fleet/boats.js'
import type { DepletionService } from '../forecasts/depletion-service.js'
import type { GalvanicService } from '../galvanic/galvanic-service.js'
import type { HaulOutService } from '../haul-outs/haul-outs.js'
import type { OrganisationService } from '../organisations/organisation-service.js'
import { cautionsOf, liftedAnodes } from './report-content.js'

/** Whose answers a report is made of: it says what they say, and shows nobody more than they do. */
export interface ReportedServices {
  readonly organisation: OrganisationService
  readonly boats: BoatService
  readonly haulOuts: HaulOutService
  readonly depletion: DepletionService
  readonly findings: FindingService
  readonly galvanic: GalvanicService
}

export interface WrittenReport {
  readonly bytes: Buffer
  readonly boat: string
  /** Null where no lift is on record. */
  readonly hauledOn: string | null
}

export interface ReportWish {
  /** The latest that lies not ahead unless given. */
  readonly haulOut?: string | undefined
  readonly reading: PaperReading
}

/** More than a page can tell. */
const MOST_FINDINGS = 50

/** Reports for printing. */
export class ReportService {
  readonly #services: ReportedServices
  readonly #now: () => Date

  constructor(services: ReportedServices, now: () => Date) {
    this.#services = services
    this.#now = now
  }

  /**
   * The report of a haul-out, with the outlook of today.
   *
   * @throws NotFound, NotComputed
   */
  async haulOut(actor: Actor, boatName: string, { haulOut: haulOutId, reading }: ReportWish): Promise<WrittenReport> {
    const { organisation, boats, depletion, findings, galvanic } = this.#services
    const boat = await boats.read(actor, boatName)
    const haulOut = await this.#lift(actor, boat, haulOutId)
    const drawn = await depletion.read(actor, boat.id)
    const page = await findings.page(actor, {
      boat: boat.name,
      state: 'unsettled',
      sort: '-surprise',
      limit: MOST_FINDINGS,
      evidence: 'whole',
    })
    const audit = await galvanic.audit(actor, boat.id)
    const anodes = liftedAnodes(drawn, haulOut)
    const bytes = await writeHaulOutReport({
      organisation: (await organisation.get(actor)).name,
      boat,
      haulOut,
      anodes,
      findings: page.items,
      depletion: drawn,
      nextLift: nextLiftOf(drawn),
      audit,
      cautions: cautionsOf(page.items, anodes, audit),
      madeAt: this.#now(),
      reading,
    })
    return { bytes, boat: boat.name, hauledOn: haulOut?.hauledOn ?? null }
  }

  async #lift(actor: Actor, boat: { id: string; name: string }, id?: string): Promise<HaulOutDetail | null> {
    const { haulOuts } = this.#services
    if (id !== undefined) {
      const haulOut = await haulOuts.read(actor, id)
      if (haulOut.boat !== boat.name) throw new NotFound('the haul-out')
      return haulOut
    }
    const to = this.#now().toISOString().slice(0, 10)
    const { items } = await haulOuts.pageOfBoat(actor, boat.id, { to, sort: '-hauledOn', limit: 1 })
    return items[0] === undefined ? null : haulOuts.read(actor, items[0].id)
  }
}
