import type { Db } from '../db/client.js'
import type { Mail } from '../outside/mail.js'
import type { PhotoStore } from '../outside/photo-store.js'
import type { SendOut } from '../outside/web/send-out.js'
import { ApiKeyService } from './access/api-keys.js'
import { DemoPeople } from './access/demo-people.js'
import { IdempotencyService } from './access/idempotency.js'
import { MembershipService } from './access/memberships.js'
import { PreferenceService } from './access/preferences.js'
import { Readiness } from './access/readiness.js'
import { SessionService } from './access/sessions.js'
import { SetUpService } from './access/set-up.js'
import { createSignIn } from './access/sign-in.js'
import { AnodeService } from './anodes/anodes.js'
import { CalendarFeedService } from './calendar/calendar-feed-service.js'
import { FeedReader } from './calendar/feed-reader.js'
import { DeskFleets } from './desk/desk-fleets.js'
import { DeskService } from './desk/desk-service.js'
import { LiftPlanService } from './desk/lift-plan-service.js'
import { SavedViewService } from './desk/saved-views.js'
import { ExportService } from './exports/export-service.js'
import { FindingService } from './findings/finding-service.js'
import { FindingSteps } from './findings/finding-steps.js'
import { PontoonPlanService } from './findings/pontoon-plan.js'
import { RecordQuestionService } from './findings/record-questions.js'
import { BerthService } from './fleet/berths.js'
import { BoatService } from './fleet/boats.js'
import { ContinuityService } from './fleet/continuity.js'
import { FittingService } from './fleet/fittings.js'
import { PositionService } from './fleet/positions.js'
import { PotentialService } from './fleet/potentials.js'
import { StayService } from './fleet/stays.js'
import { DepletionService } from './forecasts/depletion-service.js'
import { ForecastService } from './forecasts/forecast-service.js'
import { IssuedFleets } from './forecasts/issued-fleets.js'
import { WhatIfService } from './forecasts/what-if-service.js'
import { GalvanicService } from './galvanic/galvanic-service.js'
import { HaulOutService } from './haul-outs/haul-outs.js'
import { ImportService } from './imports/import-service.js'
import { FollowedJobs } from './jobs/followed-jobs.js'
import type { RefitRequests } from './jobs/refit-requests.js'
import type { ComputeForecasts } from './model/compute-forecasts.js'
import { ModelService } from './model/model-service.js'
import { LetterAnswers } from './notices/letter-answers.js'
import { LetterLinks } from './notices/letter-links.js'
import { LetterWriter, type WriterServices } from './notices/letter-writer.js'
import { NoticeDecider } from './notices/notice-decider.js'
import { NoticeSender } from './notices/notice-sender.js'
import { NoticeService } from './notices/notice-service.js'
import { pushNotice } from './notices/push-notice.js'
import { TeamLetters } from './notices/team-letters.js'
import { AuditTrail } from './organisations/audit-trail.js'
import { MemberService } from './organisations/member-service.js'
import { OrganisationService } from './organisations/organisation-service.js'
import { PhotoService } from './photos/photos.js'
import { PushService, type PushSettings } from './push/push-service.js'
import { ReportService } from './reports/report-service.js'
import { WebhookDeliverer } from './webhooks/deliverer.js'
import { WebhookService } from './webhooks/webhook-service.js'
import { WeighingService } from './weighings/weighings.js'

/** What the services need from outside, chosen at the start. */
export interface ServiceSurroundings {
  readonly db: Db
  readonly publicUrl: string
  readonly sessionSecret: string
  readonly mail: Mail
  readonly photoStore: PhotoStore
  /** Keys of web push where they are configured, and whom push services may turn to. */
  readonly push: PushSettings
  /** How addresses that people named are reached. */
  readonly sendOut: SendOut
  readonly refits: RefitRequests
  readonly engine: ComputeForecasts
  readonly now: () => Date
  /** Told of failures that no request waits for. */
  readonly onFailure: (error: unknown) => void
}

export type Services = ReturnType<typeof buildServices>

/** Every service, built by hand: the one place that knows who uses what. */
export function buildServices(surroundings: ServiceSurroundings) {
  const services = {
    ...accessServices(surroundings),
    ...fleetServices(surroundings),
    ...forecastServices(surroundings),
    ...outwardServices(surroundings),
  }
  const { db, publicUrl, now } = surroundings
  const { memberships, feedReader: reader } = services
  return {
    ...services,
    reports: new ReportService(services, now),
    calendarFeeds: new CalendarFeedService(db, { memberships, reader, publicUrl }, now),
    ...noticeServices(surroundings, services),
  }
}

interface WhatNoticesUse extends Pick<WriterServices, 'depletion' | 'findings'> {
  readonly haulOuts: HaulOutService
  readonly push: PushService
}

/** Letters to owners and to those who work with the fleet. */
function noticeServices(
  { db, mail, sessionSecret, publicUrl, now }: ServiceSurroundings,
  { depletion, findings, haulOuts, push }: WhatNoticesUse,
) {
  const links = new LetterLinks(sessionSecret, publicUrl)
  const team = new TeamLetters(db, links)
  const decider = new NoticeDecider(db, team, now)
  const writer = new LetterWriter(db, { depletion, findings, team }, links, now)
  return {
    noticeDecider: decider,
    notices: new NoticeService(db, decider, now),
    noticeSender: new NoticeSender(
      db,
      {
        mail,
        write: (notice) => writer.write(notice),
        alsoTell: (notice, letter) => pushNotice(push, notice, letter),
      },
      now,
    ),
    letterAnswers: new LetterAnswers(db, links, haulOuts, now),
  }
}

function accessServices({ db, publicUrl, sessionSecret, mail, refits, now, onFailure }: ServiceSurroundings) {
  const memberships = new MembershipService(db)
  const signIn = createSignIn(db, { secret: sessionSecret, publicUrl, mail, memberships, onMailFailure: onFailure })
  return {
    readiness: new Readiness(db),
    apiKeys: new ApiKeyService(db, now),
    idempotency: new IdempotencyService(db, now),
    memberships,
    signIn,
    preferences: new PreferenceService(db, now),
    sessions: new SessionService(db, now),
    setUp: new SetUpService(db, { publicUrl, signIn, now }),
    demoPeople: new DemoPeople(db),
    organisation: new OrganisationService(db, refits),
    members: new MemberService(db, { mail, publicUrl, now, onMailFailure: onFailure }),
    audit: new AuditTrail(db),
  }
}

function fleetServices({ db, refits, photoStore, now }: ServiceSurroundings) {
  /** Today in UTC, as dates are stored. */
  const today = () => now().toISOString().slice(0, 10)
  return {
    boats: new BoatService(db, refits, today),
    berths: new BerthService(db, refits),
    stays: new StayService(db, refits),
    fittings: new FittingService(db, refits),
    positions: new PositionService(db, refits),
    potentials: new PotentialService(db, today),
    continuity: new ContinuityService(db, today),
    anodes: new AnodeService(db, refits, today),
    weighings: new WeighingService(db, refits, today),
    haulOuts: new HaulOutService(db, refits, today),
    photos: new PhotoService(db, photoStore, now),
    galvanic: new GalvanicService(db, today),
    recordQuestions: new RecordQuestionService(db, today),
    imports: new ImportService(db, refits, today),
    exports: new ExportService(db),
  }
}

function forecastServices({ db, engine, refits, publicUrl, now }: ServiceSurroundings) {
  const fleets = new IssuedFleets(db, engine, now)
  const deskFleets = new DeskFleets(db, fleets)
  return {
    forecasts: new ForecastService(db, fleets),
    depletion: new DepletionService(db, fleets),
    whatIf: new WhatIfService(db, engine, now),
    findings: new FindingService(db, fleets, now),
    findingSteps: new FindingSteps(db, engine, refits, now),
    pontoonPlan: new PontoonPlanService(db, now),
    desk: new DeskService(db, deskFleets),
    liftPlan: new LiftPlanService(deskFleets),
    savedViews: new SavedViewService(db),
    model: new ModelService(db),
    jobs: new FollowedJobs(db),
    feedReader: new FeedReader(db, fleets, publicUrl, now),
  }
}

/** What other systems are told, and what they read. */
function outwardServices({ db, sendOut, push, now }: ServiceSurroundings) {
  return {
    push: new PushService(db, sendOut, push),
    webhooks: new WebhookService(db, sendOut, now),
    webhookDeliverer: new WebhookDeliverer(db, sendOut, now),
  }
}
