import type { ModelView } from '../../contract/model.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { type KeptSummary, newestFit } from '../../db/repositories/forecasts.js'
import { utcInstant } from '../../db/repositories/references.js'
import { calibrationOf } from '../../engine/scoring/calibration.js'
import type { Actor } from '../actor.js'
import { calendarDay } from '../dates/day-numbers.js'
import { NotFound } from '../errors.js'

/** What of a summary fits made by older versions lack, until the next refit. */
type OlderSummary = Omit<KeptSummary, 'standouts' | 'standoutCount' | 'calibration'> & Partial<KeptSummary>

const LAWS_NOT_COMPARED = { sd: null, laws: [] }

/** The model behind the forecasts, and how its forecasts have done. */
export class ModelService {
  readonly #db: Db

  constructor(db: Db) {
    this.#db = db
  }

  /** @throws NotFound before the first fit */
  read(actor: Actor): Promise<ModelView> {
    return inOrganisation(this.#db, actor, async (tx) => {
      const fit = await newestFit(tx, actor.organisationId)
      if (fit === undefined) throw new NotFound('a fit: no refit has been completed yet, so a model')
      const summary: OlderSummary = fit.summary
      const { standouts = [], standoutCount = standouts.length, calibration } = summary
      return {
        ...summary,
        exponents: summary.exponents.map((learned) => ({ ...LAWS_NOT_COMPARED, ...learned })),
        asOf: fit.asOf,
        fittedAt: utcInstant(fit.fittedAt),
        standouts: standouts.map((standout) => ({ ...standout, on: calendarDay(standout.on) })),
        standoutCount,
        calibration: calibration?.byHorizon === undefined ? calibrationOf([]) : calibration,
      }
    })
  }
}
