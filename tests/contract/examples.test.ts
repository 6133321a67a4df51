import { describe, expect, it } from 'vitest'
import type { z } from 'zod'
import * as anodes from '../../src/contract/anodes.js'
import * as galvanic from '../../src/contract/galvanic.js'
import * as haulOuts from '../../src/contract/haul-outs.js'
import * as mass from '../../src/contract/mass.js'
import * as plannedLifts from '../../src/contract/planned-lifts.js'
import * as pontoonDrawing from '../../src/contract/pontoon-drawing.js'
import * as recordQuestions from '../../src/contract/record-questions.js'
import * as reference from '../../src/contract/reference.js'
import * as status from '../../src/contract/status.js'
import * as weighings from '../../src/contract/weighings.js'

const isSchema = (value: unknown): value is z.ZodType =>
  typeof value === 'object' && value !== null && 'safeParse' in value && 'meta' in value

describe.each([
  ['mass', mass],
  ['anodes', anodes],
  ['weighings', weighings],
  ['haul-outs', haulOuts],
  ['planned-lifts', plannedLifts],
  ['galvanic', galvanic],
  ['pontoon-drawing', pontoonDrawing],
  ['record-questions', recordQuestions],
  ['reference', reference],
  ['status', status],
])('the examples of %s', (_, module) => {
  const examples = Object.entries(module).flatMap(([name, schema]) => {
    const given: unknown = isSchema(schema) ? schema.meta()?.examples : undefined
    return isSchema(schema) && Array.isArray(given) ? given.map((example: unknown) => ({ name, schema, example })) : []
  })

  it.each(examples)('of $name are what the schema takes', ({ schema, example }) => {
    expect(schema.safeParse(example)).toMatchObject({ success: true })
  })

  it('are there for everything that has a name in the OpenAPI document', () => {
    const named = Object.entries(module).filter(([, schema]) => isSchema(schema) && schema.meta()?.id !== undefined)
    expect(named.map(([name]) => name).filter((name) => !examples.some((one) => one.name === name))).toEqual([])
  })
})
