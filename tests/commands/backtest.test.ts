import { execFile } from 'node:child_process'
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { backtestFolder } from '../../src/commands/backtest.js'
import { CSV_FILE_NAMES } from '../../src/contract/csv/index.js'
import { PROJECT_ROOT } from '../../src/project-root.js'
import { simulateFleet } from '../simulation/simulated-fleet.js'
import { fileText, writeFleet } from '../simulation/write-files.js'

const fleet = simulateFleet({ start: 5, boats: 8, years: 3, coast: 'temperate' })

async function run(...args: string[]) {
  const written = { out: '', err: '' }
  const code = await backtestFolder(
    args,
    { write: (text) => (written.out += text) },
    { write: (text) => (written.err += text) },
  )
  return { code, ...written }
}

describe('npm run backtest', () => {
  let folder: string
  let whole: string

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'backtest-'))
    whole = join(folder, 'whole')
    await writeFleet(fleet.rows, whole)
  })

  afterAll(async () => {
    await rm(folder, { recursive: true })
  })

  const copyOf = async (name: string, change: Record<string, (text: string) => string>) => {
    const copy = join(folder, name)
    await mkdir(copy)
    for (const file of CSV_FILE_NAMES)
      await writeFile(join(copy, file), (change[file] ?? ((text) => text))(fileText(fleet.rows, file)))
    return copy
  }

  it('prints a table of the scores, by history, horizon, water and alloy', async () => {
    const { code, out } = await run(whole, '--origins', '2')
    expect(code).toBe(0)
    expect(out).toMatch(
      /^The fleet forecast on 2 past days, \d{4}-\d{2}-\d{2} to \d{4}-\d{2}-\d{2}\nOf \d+ weighings that followed, /,
    )
    for (const group of ['all', 'never weighed', 'weighed before', '0–180 d', 'salt', 'zinc'])
      expect(out).toMatch(new RegExp(`^${group} +\\d+ `, 'm'))
  })

  it('gives the same as JSON, its days as dates', async () => {
    const { code, out } = await run(whole, '--origins', '1', '--json')
    expect(code).toBe(0)
    const report = JSON.parse(out)
    expect(report.origins).toEqual([expect.stringMatching(/^\d{4}-\d{2}-\d{2}$/)])
    expect(report.overall.weighings).toBeGreaterThan(0)
    expect(report.overall.inside80).toBeLessThanOrEqual(report.overall.inside90)
  })

  it('runs as a command', async () => {
    const command = ['--import', 'tsx', 'src/commands/backtest.ts', whole, '--origins', '1', '--json']
    const { stdout } = await promisify(execFile)(process.execPath, command, { cwd: PROJECT_ROOT })
    expect(stdout).toBe((await run(whole, '--origins', '1', '--json')).out)
  })

  it('says how it is called when the folder is missing, and what a number must be', async () => {
    expect(await run()).toMatchObject({ code: 1, err: expect.stringContaining('npm run backtest -- FOLDER') })
    expect(await run(whole, '--origins', 'many')).toMatchObject({ code: 1, err: expect.stringContaining('--origins') })
    expect(await run(whole, '--every', '0')).toMatchObject({ code: 1, err: expect.stringContaining('--every') })
  })

  it('says where nothing lies that it could read', async () => {
    const empty = join(folder, 'empty')
    await mkdir(empty)
    expect(await run(empty)).toMatchObject({ code: 1, err: expect.stringContaining('weighings.csv') })
  })

  it('names file, line, column and reason of a cell that cannot be read', async () => {
    const bad = await copyOf('bad', { 'weighings.csv': (text) => text.replace(/,scale,\d+,/, ',scale,many,') })
    const { code, err } = await run(bad)
    expect(code).toBe(1)
    expect(err).toMatch(/^weighings\.csv:\d+ mass_g: "many" is not a number/)
  })

  it('names what refers to nothing', async () => {
    const lost = await copyOf('lost', { 'berths.csv': (text) => `${text.split('\r\n')[0]}\r\n` })
    const { code, err } = await run(lost)
    expect(code).toBe(1)
    expect(err).toMatch(/^stays\.csv:2 berth: no berth is called "Berth \d+"/m)
  })

  it('says that a fleet with hardly a weighing has nothing to score', async () => {
    const young = await copyOf('young', { 'weighings.csv': (text) => text.split('\r\n').slice(0, 3).join('\r\n') })
    expect(await run(young)).toMatchObject({ code: 1, err: expect.stringContaining('too few weighings') })
  })

  it('leaves the files as they are', async () => {
    expect(await readFile(join(whole, 'weighings.csv'), 'utf8')).toBe(fileText(fleet.rows, 'weighings.csv'))
  })
})
