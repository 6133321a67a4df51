import type { FastifyInstance } from 'fastify'
import type { AppOptions } from '../app.js'
import { anodeRoutes } from './anodes.js'
import { apiKeyRoutes } from './api-keys.js'
import { berthRoutes } from './berths.js'
import { boatRoutes } from './boats.js'
import { calculatorRoutes } from './calculators.js'
import { calendarFeedRoutes } from './calendar-feeds.js'
import { continuityRoutes } from './continuity.js'
import { costRoutes } from './costs.js'
import { demoRoutes } from './demo.js'
import { deskRoutes } from './desk.js'
import { exportRoutes } from './exports.js'
import { findingRoutes } from './findings.js'
import { fittingRoutes } from './fittings.js'
import { forecastRoutes } from './forecasts.js'
import { galvanicRoutes } from './galvanic.js'
import { haulOutRoutes } from './haul-outs.js'
import { healthRoutes } from './health.js'
import { importRoutes } from './imports.js'
import { jobRoutes } from './jobs.js'
import { letterRoutes } from './letters.js'
import { meRoutes } from './me.js'
import { memberRoutes } from './members.js'
import { modelRoutes } from './model.js'
import { noticeRoutes } from './notices.js'
import { openApiRoutes } from './openapi.js'
import { organisationRoutes } from './organisation.js'
import { passkeyRoutes } from './passkeys.js'
import { peopleRoutes } from './people.js'
import { photoRoutes } from './photos.js'
import { plannedLiftRoutes } from './planned-lifts.js'
import { pontoonRoutes } from './pontoons.js'
import { positionRoutes } from './positions.js'
import { potentialRoutes } from './potentials.js'
import { preferenceRoutes } from './preferences.js'
import { pushRoutes } from './push.js'
import { recordQuestionRoutes } from './record-questions.js'
import { referenceRoutes } from './reference.js'
import { reportRoutes } from './reports.js'
import { savedViewRoutes } from './saved-views.js'
import { sessionRoutes } from './sessions.js'
import { setUpRoutes } from './set-up.js'
import { signInRoutes } from './sign-in.js'
import { statusRoutes } from './status.js'
import { stayRoutes } from './stays.js'
import { webhookRoutes } from './webhooks.js'
import { weighingRoutes } from './weighings.js'

/** Every route file with just the services it uses. */
export async function registerRoutes(app: FastifyInstance, options: AppOptions): Promise<void> {
  await registerAccess(app, options)
  await registerFleet(app, options)
  await app.register(calculatorRoutes)
  await app.register(referenceRoutes)
}

async function registerAccess(app: FastifyInstance, { services, publicUrl, demo, rateLimit }: AppOptions) {
  const { readiness, signIn, setUp, organisation, members, apiKeys, audit, demoPeople } = services
  const attempts = rateLimit && services.attempts
  await app.register(healthRoutes, { readiness })
  await app.register(openApiRoutes)
  await app.register(signInRoutes, { signIn, publicUrl, attempts })
  await app.register(setUpRoutes, { setUp, attempts })
  await app.register(meRoutes, { organisation, publicUrl, demo: demo ?? false })
  await app.register(preferenceRoutes, { preferences: services.preferences })
  await app.register(sessionRoutes, { sessions: services.sessions })
  await app.register(passkeyRoutes, { passkeys: services.passkeys, publicUrl, attempts })
  await app.register(organisationRoutes, {
    organisation,
    organisationArchive: services.organisationArchive,
    audit,
  })
  await app.register(memberRoutes, { members })
  await app.register(peopleRoutes, { personData: services.personData })
  await app.register(apiKeyRoutes, { apiKeys })
  await app.register(calendarFeedRoutes, { calendarFeeds: services.calendarFeeds, limited: rateLimit !== undefined })
  await app.register(statusRoutes, { status: services.status })
  await app.register(noticeRoutes, services)
  const { letterAnswers, letterEntry } = services
  await app.register(letterRoutes, { letterAnswers, letterEntry, publicUrl, attempts })
  await app.register(pushRoutes, { push: services.push })
  await app.register(webhookRoutes, { webhooks: services.webhooks })
  if (demo) await app.register(demoRoutes, { people: demoPeople, signIn, publicUrl })
}

async function registerFleet(app: FastifyInstance, { services }: AppOptions) {
  const { boats, berths, stays, fittings, positions, potentials, continuity, anodes, weighings, haulOuts } = services
  await app.register(boatRoutes, { boats })
  await app.register(berthRoutes, { berths })
  await app.register(stayRoutes, { stays })
  await app.register(fittingRoutes, { fittings })
  await app.register(positionRoutes, { positions })
  await app.register(potentialRoutes, { potentials })
  await app.register(continuityRoutes, { continuity })
  await app.register(anodeRoutes, { anodes })
  await app.register(weighingRoutes, { weighings })
  await app.register(haulOutRoutes, { haulOuts })
  await app.register(plannedLiftRoutes, { plannedLifts: services.plannedLifts })
  await app.register(photoRoutes, { photos: services.photos })
  await app.register(importRoutes, { imports: services.imports })
  await app.register(exportRoutes, { exports: services.exports })
  await app.register(forecastRoutes, {
    forecasts: services.forecasts,
    depletion: services.depletion,
    whatIf: services.whatIf,
  })
  await app.register(galvanicRoutes, { galvanic: services.galvanic })
  await app.register(reportRoutes, { reports: services.reports, preferences: services.preferences })
  await app.register(recordQuestionRoutes, { recordQuestions: services.recordQuestions })
  await app.register(findingRoutes, { findings: services.findings, findingSteps: services.findingSteps })
  await app.register(pontoonRoutes, {
    pontoonPlan: services.pontoonPlan,
    pontoonDrawing: services.pontoonDrawing,
  })
  await app.register(deskRoutes, { desk: services.desk, liftPlan: services.liftPlan })
  await app.register(costRoutes, { priceList: services.priceList, boatCosts: services.boatCosts })
  await app.register(savedViewRoutes, { savedViews: services.savedViews })
  await app.register(modelRoutes, { model: services.model })
  await app.register(jobRoutes, { jobs: services.jobs })
}
