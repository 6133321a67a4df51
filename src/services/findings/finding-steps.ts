import type { Acknowledgement, NewCheck, NewResolution, Reopening } from '../../contract/findings.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  addFindingStep,
  type Episode,
  type FindingRow,
  type FindingStep,
  findFinding,
  type KeptCheck,
  lockFinding,
  updateFinding,
} from '../../db/repositories/findings.js'
import { dataRevision, readFleetRecords } from '../../db/repositories/fleet-records.js'
import { newestFit } from '../../db/repositories/forecasts.js'
import type { Diagnosis } from '../../engine/diagnosis/diagnosis.js'
import type { Actor } from '../actor.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'
import { inFutureDetail, isInFuture, utcDay } from '../dates/not-in-future.js'
import { Conflict, Invalid, NotComputed, Stale } from '../errors.js'
import { found } from '../fleet/visible.js'
import type { RefitRequests } from '../jobs/refit-requests.js'
import type { ComputeForecasts } from '../model/compute-forecasts.js'
import { fitKey } from '../model/fit-key.js'
import { fleetQuestion, recordedChecks } from '../model/fleet-question.js'
import { tellFindingStep } from '../webhooks/tell-findings.js'
import { allChecks, findCheck } from './checks.js'
import { validChecks } from './explained-wear.js'
import { isSettled } from './reconcile.js'

/** Somebody else's step may come between: then the check is weighed once more beside it. */
const MOST_TRIES = 5

interface Taken {
  readonly step: FindingStep
  readonly values: Partial<FindingRow>
  readonly needsRefit: 'refit' | 'no-refit'
}

/** The steps that people take in the life of a finding. */
export class FindingSteps {
  readonly #db: Db
  readonly #engine: ComputeForecasts
  readonly #refits: RefitRequests
  readonly #now: () => Date

  constructor(db: Db, engine: ComputeForecasts, refits: RefitRequests, now: () => Date) {
    this.#db = db
    this.#engine = engine
    this.#refits = refits
    this.#now = now
  }

  /** @throws NotFound, Stale, Conflict where somebody has done more than that already */
  acknowledge(actor: Actor, id: string, version: number | undefined, { note }: Acknowledgement): Promise<void> {
    return this.#take(actor, id, version, (finding) => {
      if (finding.state !== 'open') throw new Conflict(`the finding is ${finding.state} already`)
      const step: FindingStep = { kind: 'acknowledged', from: finding.state, to: 'acknowledged', note: note ?? null }
      return { step, values: {}, needsRefit: 'no-refit' }
    })
  }

  /**
   * Records what somebody found in a check. It is evidence at once: the causes are weighed anew with it.
   *
   * @throws NotFound, Stale, Conflict, Invalid, NotComputed
   */
  async check(actor: Actor, id: string, version: number | undefined, given: NewCheck): Promise<void> {
    this.#refuseUnknownCheck(given)
    const { check, outcome, on, note, confirms } = given
    const made: KeptCheck = { check, outcome, on, note: note ?? null, confirms: confirms ?? null }
    for (let attempt = 1; ; attempt++) {
      const before = found(
        await inOrganisation(this.#db, actor, (tx) => findFinding(tx, actor.organisationId, id)),
        'the finding',
      )
      expectVersion(before, version)
      refuseSettled(before)
      const checks = [...before.detail.checks, made]
      const diagnosis = await this.#weigh(actor.organisationId, before, checks)
      try {
        return await this.#take(actor, id, before.version, (finding) => ({
          step: { kind: 'checked', from: finding.state, to: 'checked', note: made.note, check: made },
          values: {
            detail: { ...finding.detail, diagnosis, checks },
            ...(confirms === undefined ? {} : { confirmedCause: confirms }),
          },
          needsRefit: confirms === undefined ? 'no-refit' : 'refit',
        }))
      } catch (error) {
        if (!(error instanceof Stale) || version !== undefined || attempt === MOST_TRIES) throw error
      }
    }
  }

  /** @throws NotFound, Stale, Conflict, Invalid */
  resolve(actor: Actor, id: string, version: number | undefined, resolution: NewResolution): Promise<void> {
    const { on, text, cause } = resolution
    this.#refuseFuture(on)
    return this.#take(actor, id, version, (finding) => {
      refuseSettled(finding)
      refuseBeforeOnset(finding, on)
      return {
        step: { kind: 'resolved', from: finding.state, to: 'resolved', note: text, resolution: { on, text, cause } },
        values: {
          resolvedOn: on,
          confirmedCause: cause,
          detail: withEpisodes(finding, [...finding.detail.episodes, episodeOf(finding, on, cause)]),
        },
        needsRefit: 'refit',
      }
    })
  }

  /** @throws NotFound, Stale, Conflict */
  reopen(actor: Actor, id: string, version: number | undefined, { note }: Reopening): Promise<void> {
    return this.#take(actor, id, version, async (finding, tx) => {
      if (!isSettled(finding)) throw new Conflict(`the finding is ${finding.state}; only a settled one is reopened`)
      const wasResolved = finding.state === 'resolved'
      const reopened = finding.reopened + (wasResolved ? 1 : 0)
      // It was not over after all: that time is looked into again.
      const episodes = wasResolved ? finding.detail.episodes.slice(0, -1) : finding.detail.episodes
      return {
        step: { kind: 'reopened', from: finding.state, to: 'open', note },
        values: {
          resolvedOn: null,
          confirmedCause: null,
          reopened,
          detail: withEpisodes(finding, episodes),
          // What was corrected before somebody reopened it is no reason to close it again.
          seenRevision: await dataRevision(tx, actor.organisationId),
        },
        needsRefit: 'refit',
      }
    })
  }

  #take(
    actor: Actor,
    id: string,
    version: number | undefined,
    decide: (finding: FindingRow, tx: Db) => Taken | Promise<Taken>,
  ): Promise<void> {
    const { organisationId } = actor
    return inOrganisation(this.#db, actor, async (tx) => {
      const finding = found(await lockFinding(tx, organisationId, id), 'the finding')
      expectVersion(finding, version)
      const { step, values, needsRefit } = await decide(finding, tx)
      await updateFinding(tx, organisationId, id, { ...values, state: step.to })
      await addFindingStep(tx, actor, id, step)
      await tellFindingStep(tx, organisationId, id, step)
      if (needsRefit === 'refit') await this.#refits.request(tx, actor)
    })
  }

  /** By the fit that the finding is from where it is kept still, else by a new one. */
  async #weigh(organisationId: string, finding: FindingRow, checks: readonly KeptCheck[]): Promise<Diagnosis> {
    const question = {
      anomaly: finding.detail.diagnosis.anomaly,
      checks: recordedChecks(validChecks({ detail: { ...finding.detail, checks } }, Infinity)),
    }
    const fit = await inOrganisation(this.#db, { organisationId, actor: 'finding' }, (tx) =>
      newestFit(tx, organisationId),
    )
    const ofFit = fit && fitKey(organisationId, fit.asOf, fit.dataRevision)
    const kept = ofFit === undefined ? null : await this.#engine.diagnose({ ...question, key: ofFit })
    if (kept !== null) return kept
    const key = await this.#fit(organisationId)
    const diagnosis = await this.#engine.diagnose({ ...question, key })
    if (diagnosis === null) throw new NotComputed('what the check tells', undefined)
    return diagnosis
  }

  async #fit(organisationId: string): Promise<string> {
    const day = utcDay(this.#now())
    const asOf = dayNumber(day)
    const { records, revision } = await inOrganisation(this.#db, { organisationId, actor: 'finding' }, async (tx) => ({
      revision: await dataRevision(tx, organisationId),
      records: await readFleetRecords(tx, organisationId),
    }))
    const key = fitKey(organisationId, day, revision)
    await this.#engine.compute(fleetQuestion(records, asOf, asOf), key).catch((cause: unknown) => {
      throw new NotComputed('what the check tells', cause)
    })
    return key
  }

  #refuseUnknownCheck({ check, outcome, on }: NewCheck): void {
    const known = findCheck(check)
    if (known === undefined) {
      const keys = allChecks().map((each) => each.check)
      throw new Invalid([{ pointer: '#/check', detail: `there is no check ${check}; there are ${keys.join(', ')}` }])
    }
    const outcomes = known.outcomes.map((each) => each.outcome)
    if (!outcomes.includes(outcome)) {
      throw new Invalid([{ pointer: '#/outcome', detail: `${outcome} is not one of ${outcomes.join(', ')}` }])
    }
    this.#refuseFuture(on)
  }

  #refuseFuture(on: string): void {
    if (isInFuture(on, utcDay(this.#now()))) throw new Invalid([{ pointer: '#/on', detail: inFutureDetail(on) }])
  }
}

function expectVersion({ version }: FindingRow, expected: number | undefined): void {
  if (expected !== undefined && version !== expected) throw new Stale('the finding')
}

function refuseSettled(finding: FindingRow): void {
  if (isSettled(finding)) throw new Conflict(`the finding is ${finding.state}; reopen it first`)
}

function withEpisodes({ detail }: FindingRow, episodes: readonly Episode[]): FindingRow['detail'] {
  return { ...detail, episodes }
}

function episodeOf({ detail }: FindingRow, until: string, cause: NewResolution['cause']): Episode {
  const { onset, anodes } = detail.diagnosis.anomaly
  return { anodes, from: onset && calendarDay(onset.p50), until, cause }
}

/** Nothing was mended before it began. */
function refuseBeforeOnset({ detail }: FindingRow, on: string): void {
  const { onset } = detail.diagnosis.anomaly
  if (onset === null || dayNumber(on) >= Math.floor(onset.p10)) return
  const detailText = `it began on ${calendarDay(onset.p10)} at the earliest, so it was not over on ${on}`
  throw new Invalid([{ pointer: '#/on', detail: detailText }])
}
