import { spawn } from 'node:child_process'
import { text } from 'node:stream/consumers'
import { describe, expect, it } from 'vitest'
import { CALCULATORS } from '../../../src/services/calculators/registry.js'

const root = new URL('../../../', import.meta.url)

/** The command as a program runs it. */
async function calc(args: readonly string[], input: string) {
  const child = spawn(process.execPath, ['--import', 'tsx', 'src/commands/calc.ts', ...args], { cwd: root })
  const code = new Promise<number | null>((resolve) => child.once('close', resolve))
  child.stdin.end(input)
  const [out, err] = await Promise.all([text(child.stdout), text(child.stderr)])
  return { code: await code, out, err }
}

describe('calc', () => {
  it('answers in JSON, refuses with a problem, lists its names', async () => {
    const [good, bad, broken, unknown, list] = await Promise.all([
      calc(['theoretical-capacity'], '{"valence": 2, "molarMassGPerMol": 65.38}'),
      calc(['mean-current'], '{"alloy": "zinc", "massLossG": 12, "days": 0}'),
      calc(['mean-current'], '{"alloy"'),
      calc(['horoscope'], '{}'),
      calc([], ''),
    ])
    // Tri-Services Electrical TP-17 (2017), 1.1.3: zinc, 372 A·h/lb, that is 820 A·h/kg.
    expect(good).toMatchObject({ code: 0, err: '' })
    expect(Math.abs(JSON.parse(good.out).capacityAhPerKg - 820)).toBeLessThan(1)

    // RFC 9457: a problem has a type, a title and a detail, and may say more.
    expect(bad).toMatchObject({ code: 1, out: '' })
    expect(JSON.parse(bad.err)).toMatchObject({
      type: 'about:blank',
      title: 'Invalid input',
      errors: [{ pointer: '#/days', detail: expect.stringContaining('days') }],
    })
    expect(broken.code).toBe(1)
    expect(JSON.parse(broken.err).title).toBe('Invalid JSON')
    expect(unknown.code).toBe(1)
    expect(JSON.parse(unknown.err).detail).toContain('electrode')

    expect(list.code).toBe(0)
    expect(
      list.out
        .trim()
        .split('\n')
        .map((line) => line.split('\t')[0]),
    ).toEqual(CALCULATORS.map(({ name }) => name))
  })
})
