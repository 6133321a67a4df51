/** Why a database cannot do anything just now, whoever asks for whatever. */
export type OutOfService = 'away' | 'full'

/**
 * Codes of PostgreSQL (its manual, appendix A: 57P01 to 57P03 shutdowns and starts, 53300 too many connections; class 08 connections) and of
 * Node's sockets.
 */
const AWAY = /^(08|57P0[1-3]$|53300$|ECONNREFUSED$|ECONNRESET$|EPIPE$|ETIMEDOUT$|EHOSTUNREACH$|ENOTFOUND$|EAI_AGAIN$)/
/** The driver's own words, which have no code; its pool's where no connection was to be had in time. */
const CONNECTION_LOST =
  /^Connection terminated|^Client has encountered a connection error|^Client was closed|^timeout exceeded when trying to connect|^timeout expired/
/** PostgreSQL's disk_full, and the file system's own. */
const FULL = new Set(['53100', 'ENOSPC'])

/** What a failure says of the database or the disk; undefined where it is about the request. */
export function outOfService(error: unknown): OutOfService | undefined {
  if (!(error instanceof Error)) return undefined
  const code = String((error as { code?: unknown }).code ?? '')
  if (FULL.has(code)) return 'full'
  if (AWAY.test(code) || CONNECTION_LOST.test(error.message)) return 'away'
  return outOfService(error.cause)
}
