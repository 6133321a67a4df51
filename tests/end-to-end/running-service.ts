import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { inject } from 'vitest'
import { z } from 'zod'
import { generateFleet } from '../../seed/scenario/fleet.js'
import { PROJECT_ROOT } from '../../src/project-root.js'
import { createServerDatabase, type ServerDatabase } from '../database/test-database.js'
import { fleetTemplate } from './fleet-template.js'

const START_LIMIT_MS = 60_000
const REFIT_LIMIT_MS = 300_000

/** The whole service in a process of its own, with the demo fleet in it. */
export interface RunningService {
  readonly address: string
  /** The administrator's key. */
  readonly key: string
  /** GETs as the administrator. */
  get(path: string): Promise<unknown>
  /** POSTs as the administrator. */
  post(path: string, body: unknown): Promise<unknown>
  /** DELETEs as the administrator, in the version that was read. */
  remove(path: string, version: number): Promise<unknown>
  /** Ends the process and starts another one on the same data, at the same address. */
  restart(): Promise<void>
  /** Asks a calculator. */
  calculate(name: string, input: unknown): Promise<Record<string, unknown>>
  stop(): Promise<void>
}

/** A service of its own on a copy of the demo fleet, which the first caller of a run loads and fits for all. */
export async function startServiceWithFleet(today: string): Promise<RunningService> {
  const template = await fleetTemplate(inject('fleetTemplates'), today, (dataDir, key) =>
    makeFleet(today, dataDir, key),
  )
  const database = template.database === null ? undefined : await createServerDatabase(template.database)
  const folder = mkdtempSync(join(tmpdir(), 'anode-ledger-browser-'))
  const dataDir = join(folder, 'data')
  if (existsSync(template.dataDir)) cpSync(template.dataDir, dataDir, { recursive: true })
  const environment = environmentOf(dataDir, template.key, database)
  let process = spawnService(environment)
  const stop = async () => {
    await ended(process)
    await database?.drop()
    rmSync(folder, { recursive: true, force: true })
  }
  try {
    const address = await addressOf(process)
    const ask = asking(address, template.key)
    const restart = async () => {
      await ended(process)
      process = spawnService({ ...environment, PORT: new URL(address).port })
      await addressOf(process)
    }
    return {
      address,
      key: template.key,
      stop,
      restart,
      get: (path) => ask(path),
      post: (path, body) => posted(ask, path, body),
      remove: (path, version) => ask(path, { method: 'DELETE', headers: { 'if-match': `"${version}"` } }),
      calculate: (name, input) => calculated(ask, name, input),
    }
  } catch (error) {
    await stop()
    throw error
  }
}

/** Loads and fits the demo fleet, and stops, so that nothing holds the data while they are copied. */
async function makeFleet(today: string, dataDir: string, key: string): Promise<string | null> {
  const database = await createServerDatabase()
  const process = spawnService(environmentOf(dataDir, key, database))
  try {
    const ask = asking(await addressOf(process), key)
    await addMembers(ask)
    await load(ask, today)
  } finally {
    await ended(process)
  }
  return database?.name ?? null
}

function environmentOf(dataDir: string, key: string, database: ServerDatabase | undefined): Record<string, string> {
  return { DATA_DIR: dataDir, ADMIN_API_KEY: key, ...(database && { DATABASE_URL: database.url }) }
}

function spawnService(environment: Record<string, string>): ChildProcess {
  return spawn(process.execPath, ['--import', 'tsx', join(import.meta.dirname, 'service-process.ts')], {
    cwd: PROJECT_ROOT,
    env: { ...process.env, PORT: '0', HOST: 'localhost', LOG_LEVEL: 'error', DATABASE_URL: '', ...environment },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
}

/** From the line it prints once it answers. */
function addressOf(service: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let printed = ''
    const fail = (reason: string) => reject(new Error(`the service did not start: ${reason}; it printed: ${printed}`))
    const limit = setTimeout(() => fail(`nothing after ${START_LIMIT_MS / 1000} s`), START_LIMIT_MS)
    service.once('exit', (code) => fail(`it ended with ${code}`))
    service.stdout?.setEncoding('utf8').on('data', (text: string) => {
      printed += text
      const address = /^listening at (\S+)$/m.exec(printed)?.[1]
      if (address === undefined) return
      clearTimeout(limit)
      resolve(address)
    })
  })
}

async function ended(service: ChildProcess): Promise<void> {
  if (service.exitCode !== null || service.signalCode !== null) return
  service.kill('SIGTERM')
  await once(service, 'exit')
}

type Ask = (path: string, init?: RequestInit) => Promise<unknown>

function asking(address: string, key: string): Ask {
  return async (path, init = {}) => {
    const response = await fetch(address + path, {
      ...init,
      headers: { ...Object.fromEntries(new Headers(init.headers)), authorization: `Bearer ${key}` },
    })
    const text = await response.text()
    if (!response.ok) throw new Error(`${init.method ?? 'GET'} ${path}: ${response.status} ${text}`)
    return text === '' ? undefined : JSON.parse(text)
  }
}

/** People whom the demo's sign-in page lets a visitor look as. */
async function addMembers(ask: Ask): Promise<void> {
  for (const role of ['staff', 'manager']) {
    await posted(ask, '/v1/members', { email: `${role}@example.org`, role })
  }
}

async function calculated(ask: Ask, name: string, input: unknown): Promise<Record<string, unknown>> {
  return z.record(z.string(), z.unknown()).parse(await posted(ask, `/v1/calculators/${name}`, input))
}

function posted(ask: Ask, path: string, body: unknown): Promise<unknown> {
  const headers = { 'content-type': 'application/json' }
  return ask(path, { method: 'POST', body: JSON.stringify(body), headers })
}

async function load(ask: Ask, today: string): Promise<void> {
  const form = new FormData()
  for (const [name, text] of generateFleet(today)) form.set(name, new Blob([text], { type: 'text/csv' }), name)
  const { refit } = (await ask('/v1/imports', { method: 'POST', body: form })) as { refit: { id: string } }
  await untilDone(ask, refit.id)
}

async function untilDone(ask: Ask, job: string): Promise<void> {
  const until = Date.now() + REFIT_LIMIT_MS
  for (;;) {
    const { state, error } = (await ask(`/v1/jobs/${job}`)) as { state: string; error: string | null }
    if (state === 'completed') return
    if (state === 'failed' || Date.now() > until) throw new Error(`the refit is ${state}: ${error}`)
    await new Promise((resolve) => setTimeout(resolve, 250))
  }
}
