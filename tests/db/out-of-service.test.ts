import { describe, expect, it } from 'vitest'
import { outOfService } from '../../src/db/out-of-service.js'

const withCode = (code: string) => Object.assign(new Error('a failure'), { code })

describe('outOfService', () => {
  it.each(['08006', '57P01', '57P02', '57P03', '53300', 'ECONNREFUSED', 'ECONNRESET'])(
    'takes %s for a database that is away',
    (code) => {
      expect(outOfService(withCode(code))).toBe('away')
      expect(outOfService(new Error('Failed query', { cause: withCode(code) }))).toBe('away')
    },
  )

  it.each(['53100', 'ENOSPC'])('takes %s for a full disk', (code) => {
    expect(outOfService(new Error('Failed query', { cause: withCode(code) }))).toBe('full')
  })

  it.each([
    'Connection terminated unexpectedly',
    'Connection terminated due to connection timeout',
    'Client has encountered a connection error and is not queryable',
    'Client was closed and is not queryable',
    'timeout exceeded when trying to connect',
  ])('knows the driver by its words: %s', (words) => expect(outOfService(new Error(words))).toBe('away'))

  // unique_violation, serialization_failure, query_canceled
  it.each(['23505', '40001', '57014'])('leaves %s to those whose request it is about', (code) => {
    expect(outOfService(withCode(code))).toBeUndefined()
  })
})
