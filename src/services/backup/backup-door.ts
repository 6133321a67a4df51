import { rmSync } from 'node:fs'
import { connect, createServer, type Server, type Socket } from 'node:net'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { z } from 'zod'
import type { BackupSummary } from './write-backup.js'

/** What a process says to the one that holds the embedded database: which folder to keep it in. */
const Request = z.strictObject({ folder: z.string().min(1) })

type Reply = { readonly done: BackupSummary } | { readonly failed: string }

const doorOf = (dataDir: string) => join(dataDir, 'backup.sock')

export interface BackupDoor {
  close(): Promise<void>
}

/**
 * Only one process may open the embedded database, so it makes the backup itself, when the command asks by a socket in the data folder: whoever may
 * write there, and nobody over a network.
 *
 * @param onUnusable told when no socket can be made there; all else goes on without it
 */
export function openBackupDoor(
  dataDir: string,
  backUp: (folder: string) => Promise<BackupSummary>,
  onUnusable: (error: Error) => void,
): BackupDoor {
  const path = doorOf(dataDir)
  // One that a killed process left behind: the folder is ours.
  rmSync(path, { force: true })
  const server = createServer((socket) => answer(socket, backUp))
  server.on('error', onUnusable)
  listenForOwnUser(server, path)
  return { close: () => new Promise((resolve) => server.close(() => resolve())) }
}

/** The socket's rights are those that it is made with. */
function listenForOwnUser(server: Server, path: string): void {
  const before = process.umask(0o177)
  try {
    server.listen(path)
  } finally {
    process.umask(before)
  }
}

async function answer(socket: Socket, backUp: (folder: string) => Promise<BackupSummary>): Promise<void> {
  socket.on('error', () => {})
  try {
    const { folder } = Request.parse(JSON.parse(await firstLine(socket)))
    reply(socket, { done: await backUp(folder) })
  } catch (error) {
    reply(socket, { failed: error instanceof Error ? error.message : String(error) })
  }
}

function reply(socket: Socket, what: Reply): void {
  socket.end(`${JSON.stringify(what)}\n`)
}

/**
 * Asks the process that holds the data folder for a backup.
 *
 * @returns undefined when no process answers there
 * @throws Error with what went wrong over there
 */
export async function askForBackup(dataDir: string, folder: string): Promise<BackupSummary | undefined> {
  const socket = await reach(doorOf(dataDir))
  if (socket === undefined) return undefined
  socket.write(`${JSON.stringify({ folder })}\n`)
  const answered = JSON.parse(await firstLine(socket)) as Reply
  socket.end()
  if ('failed' in answered) throw new Error(answered.failed)
  return answered.done
}

function reach(path: string): Promise<Socket | undefined> {
  return new Promise((resolve) => {
    const socket = connect(path)
    socket.once('connect', () => resolve(socket))
    socket.once('error', () => resolve(undefined))
  })
}

async function firstLine(socket: Socket): Promise<string> {
  for await (const line of createInterface({ input: socket })) return line
  throw new Error('the service went away before it had answered')
}
