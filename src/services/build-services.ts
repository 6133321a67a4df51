import type { Db } from '../db/client.js'
import type { Mail } from '../outside/mail.js'
import type { PhotoStore } from '../outside/photo-store.js'
import type { SendOut } from '../outside/web/send-out.js'
import { ApiKeyService } from './access/api-keys.js'
import { Attempts } from './access/attempts.js'
import { DemoPeople } from './access/demo-people.js'
import { IdempotencyService } from './access/idempotency.js'
import { MembershipService } from './access/memberships.js'
import { PasskeyService } from './access/passkeys.js'
import { PreferenceService } from './access/preferences.js'
import { Readiness } from './access/readiness.js'
import { SessionService } from './access/sessions.js'
import { SetUpService } from './access/set-up.js'
import { createSignIn, type SignIn } from './access/sign-in.js'
import { AnodeService } from './anodes/anodes.js'
import { OrganisationArchive } from './archive/organisation-archive.js'
import { CalendarFeedService } from './calendar/calendar-feed-service.js'
import { FeedReader } from './calendar/feed-reader.js'
import { BoatCostService } from './costs/boat-cost-service.js'
import { PriceListService } from './costs/price-list-service.js'
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
import { PontoonDrawingService } from './fleet/pontoon-drawing.js'
import { PositionService } from './fleet/positions.js'
import { PotentialService } from './fleet/potentials.js'
import { StayService } from './fleet/stays.js'
import { DepletionService } from './forecasts/depletion-service.js'
import { ForecastService } from './forecasts/forecast-service.js'
import { IssuedFleets } from './forecasts/issued-fleets.js'
import { WhatIfService } from './forecasts/what-if-service.js'
import { GalvanicService } from './galvanic/galvanic-service.js'
import { HaulOutService } from './haul-outs/haul-outs.js'
import { PlannedLiftService } from './haul-outs/planned-lifts.js'
import { ImportService } from './imports/import-service.js'
import { FollowedJobs } from './jobs/followed-jobs.js'
import type { RefitRequests } from './jobs/refit-requests.js'
import type { ComputeForecasts } from './model/compute-forecasts.js'
import { ModelService } from './model/model-service.js'
import { LetterAnswers } from './notices/letter-answers.js'
import { LetterEntry } from './notices/letter-entry.js'
import { LetterLinks } from './notices/letter-links.js'
import { LetterWriter, type WriterServices } from './notices/letter-writer.js'
import { NoticeDecider } from './notices/notice-decider.js'
import { NoticeSender } from './notices/notice-sender.js'
import { NoticeService } from './notices/notice-service.js'
import { pushNotice } from './notices/push-notice.js'
import { ReturnedLetters } from './notices/returned-letters.js'
import { TeamLetters } from './notices/team-letters.js'
import { TrialLetter } from './notices/trial-letter.js'
import { AuditTrail } from './organisations/audit-trail.js'
import { MemberService } from './organisations/member-service.js'
import { OrganisationService } from './organisations/organisation-service.js'
import { PersonDataService } from './people/person-data.js'
import { answeringStore } from './photos/answering-store.js'
import { PhotoService } from './photos/photos.js'
import { PushService, type PushSettings } from './push/push-service.js'
import { ReportService } from './reports/report-service.js'
import { Figures } from './watching/figures.js'
import { type InstallationFacts, StatusService } from './watching/status-service.js'
import { WebhookDeliverer } from './webhooks/deliverer.js'
import { WebhookService } from './webhooks/webhook-service.js'
import { WeighingService } from './weighings/weighings.js'

/** What the services need from outside, chosen at the start. */
export interface ServiceSurroundings {
  readonly db: Db
  /** For what is done for all organisations at once: who asks, what is due. */
  readonly across: Db
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
  /** What only the start knows of the installation. */
  readonly installation: InstallationFacts
  /** Told of failures that no request waits for. */
  readonly onFailure: (error: unknown) => void
}

export type Services = ReturnType<typeof buildServices>

/** Every service, built by hand: the one place that knows who uses what. */
export function buildServices(given: ServiceSurroundings) {
  const surroundings = { ...given, photoStore: answeringStore(given.photoStore) }
  const services = {
    ...accessServices(surroundings),
    ...fleetServices(surroundings),
    ...forecastServices(surroundings),
    ...outwardServices(surroundings),
  }
  const { db, across, publicUrl, now } = surroundings
  const { memberships, feedReader: reader } = services
  return {
    ...services,
    reports: new ReportService(services, now),
    boatCosts: new BoatCostService(db, services.depletion),
    calendarFeeds: new CalendarFeedService({ db, across }, { memberships, reader, publicUrl }, now),
    ...noticeServices(surroundings, services),
    organisationArchive: new OrganisationArchive(db, surroundings.photoStore, surroundings.installation.version),
    figures: new Figures(across),
    status: new StatusService({ db, across }, services.readiness, surroundings.installation, now),
  }
}

interface WhatNoticesUse extends Pick<WriterServices, 'depletion' | 'findings'> {
  readonly haulOuts: HaulOutService
  readonly plannedLifts: PlannedLiftService
  readonly push: PushService
  readonly signIn: SignIn
  readonly memberships: MembershipService
}

/** Letters to owners and to those who work with the fleet. */
function noticeServices(
  { db, across, mail, sessionSecret, publicUrl, now }: ServiceSurroundings,
  { depletion, findings, haulOuts, push, signIn, memberships }: WhatNoticesUse,
) {
  const links = new LetterLinks(sessionSecret, publicUrl)
  const team = new TeamLetters(db, links)
  const decider = new NoticeDecider({ db, across }, team, now)
  const writer = new LetterWriter(db, { depletion, findings, team }, links, now)
  return {
    noticeDecider: decider,
    notices: new NoticeService(db, decider, now),
    returnedLetters: new ReturnedLetters(db, now),
    trialLetter: new TrialLetter(decider, writer, mail),
    noticeSender: new NoticeSender(
      { db, across },
      {
        mail,
        write: (notice) => writer.write(notice),
        alsoTell: (notice, letter) => pushNotice(push, notice, letter),
      },
      now,
    ),
    letterAnswers: new LetterAnswers(db, links, haulOuts, now),
    letterEntry: new LetterEntry(db, links, { signIn, memberships }, now),
  }
}

function accessServices(surroundings: ServiceSurroundings) {
  const { db, across, publicUrl, sessionSecret, mail, refits, now, onFailure } = surroundings
  const memberships = new MembershipService({ db, across })
  const signIn = createSignIn(across, { secret: sessionSecret, publicUrl, mail, memberships, onMailFailure: onFailure })
  const preferences = new PreferenceService(across, now)
  return {
    readiness: new Readiness(db, surroundings.photoStore, now),
    apiKeys: new ApiKeyService({ db, across }, now),
    attempts: new Attempts(across, now),
    idempotency: new IdempotencyService({ db, across }, now),
    memberships,
    signIn,
    preferences,
    passkeys: new PasskeyService(across, { publicUrl, mail, signIn, preferences, now, onMailFailure: onFailure }),
    sessions: new SessionService(across, now),
    setUp: new SetUpService(across, { publicUrl, signIn, now }),
    demoPeople: new DemoPeople({ db, across }),
    organisation: new OrganisationService(db, refits),
    members: new MemberService(db, { mail, publicUrl, now, onMailFailure: onFailure }),
    personData: new PersonDataService(db, now),
    audit: new AuditTrail(db),
  }
}

function fleetServices({ db, refits, photoStore, now }: ServiceSurroundings) {
  /** Today in UTC, as dates are stored. */
  const today = () => now().toISOString().slice(0, 10)
  return {
    boats: new BoatService(db, refits, today),
    berths: new BerthService(db, refits),
    pontoonDrawing: new PontoonDrawingService(db, refits),
    stays: new StayService(db, refits),
    fittings: new FittingService(db, refits),
    positions: new PositionService(db, refits),
    potentials: new PotentialService(db, today),
    continuity: new ContinuityService(db, today),
    anodes: new AnodeService(db, refits, today),
    weighings: new WeighingService(db, refits, today),
    haulOuts: new HaulOutService(db, refits, today),
    plannedLifts: new PlannedLiftService(db, refits, today),
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
    priceList: new PriceListService(db),
    model: new ModelService(db),
    jobs: new FollowedJobs(db),
    feedReader: new FeedReader(db, fleets, publicUrl, now),
  }
}

/** What other systems are told, and what they read. */
function outwardServices({ db, across, sendOut, push, now }: ServiceSurroundings) {
  return {
    push: new PushService(across, sendOut, push),
    webhooks: new WebhookService(db, sendOut, now),
    webhookDeliverer: new WebhookDeliverer({ db, across }, sendOut, now),
  }
}
