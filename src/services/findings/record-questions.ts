import type { RecordQuestionsView } from '../../contract/record-questions.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { type FleetRecords, readFleetRecords } from '../../db/repositories/fleet-records.js'
import { newestFit } from '../../db/repositories/forecasts.js'
import { questionsOfBoat } from '../../engine/diagnosis/evidence/questions-of-boat.js'
import { knownBy } from '../../engine/forecast/anode-outlook.js'
import { defaultObservationModel, type ObservationModel } from '../../engine/rates/observation-model.js'
import { observeFleet } from '../../engine/rates/rate-intervals.js'
import { questionIn } from '../../outside/words/sentences.js'
import type { Actor } from '../actor.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'
import { visibleBoat } from '../fleet/visible.js'
import { factsKnownBy, fleetFactsOf } from '../model/fleet-facts.js'
import { fleetHistoryOf } from '../model/fleet-history.js'

/** What is contradictory on a boat's record as of today, whether or not anything wears abnormally. */
export class RecordQuestionService {
  readonly #db: Db
  readonly #today: () => string

  /** @param today the server's day in UTC */
  constructor(db: Db, today: () => string) {
    this.#db = db
    this.#today = today
  }

  /** @throws NotFound */
  async ofBoat(actor: Actor, boatName: string): Promise<RecordQuestionsView> {
    const { organisationId } = actor
    const { boat, records, fit } = await inOrganisation(this.#db, actor, async (tx) => {
      const boat = await visibleBoat(tx, actor, boatName)
      const records = await readFleetRecords(tx, organisationId, [boat.id])
      return { boat, records, fit: await newestFit(tx, organisationId) }
    })
    // As masses were read when findings were last weighed, so that both ask the same.
    const questions = questionsOf(records, this.#today(), fit?.summary.observation ?? defaultObservationModel(null))
    return { boat: boat.name, items: questions }
  }
}

/** Programs are told in English; the codes beside it are for everybody else. */
const inEnglish = questionIn('en')

function questionsOf(
  records: FleetRecords,
  today: string,
  observation: ObservationModel,
): RecordQuestionsView['items'] {
  const day = dayNumber(today)
  const { boats, berths } = factsKnownBy(fleetFactsOf(records), day, day)
  const [observed] = observeFleet(knownBy(fleetHistoryOf(records), day, day), day, observation)
  return boats.flatMap((facts) =>
    questionsOfBoat({ facts, observed: observed ?? null }, berths).map(({ kind, about, on, ...said }) => ({
      kind,
      about,
      on: on === null ? null : calendarDay(on),
      question: inEnglish(said),
      ...said,
    })),
  )
}
