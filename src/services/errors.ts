/** A field that cannot be accepted, by its JSON pointer, with a plain sentence. */
export interface FieldError {
  readonly pointer: string
  readonly detail: string
  /** Names a doubt that a second look may settle, so that a program can ask and send it back as confirmed. */
  readonly code?: string
}

/** What was asked for does not exist, or is not the asker's to see: the two are not told apart. */
export class NotFound extends Error {
  constructor(what: string) {
    super(`${what} was not found`)
    this.name = 'NotFound'
  }
}

/** The request is sound but clashes with what is stored. */
export class Conflict extends Error {
  readonly code: string | undefined

  constructor(detail: string, code?: string) {
    super(detail)
    this.name = 'Conflict'
    this.code = code
  }
}

/** The request itself cannot be accepted. */
export class Invalid extends Error {
  readonly errors: readonly FieldError[]

  constructor(errors: readonly FieldError[]) {
    super(errors.map((error) => error.detail).join('; '))
    this.name = 'Invalid'
    this.errors = errors
  }
}

/** A file that is larger than what is taken. */
export class TooLarge extends Invalid {}

/** A file of a kind that is not read here. */
export class UnsupportedKind extends Invalid {}

/** An answer that the engine could not work out for now; the data are as they were. */
export class NotComputed extends Error {
  constructor(what: string, cause: unknown) {
    super(`${what} could not be computed`, { cause })
    this.name = 'NotComputed'
  }
}

/** Somebody else has changed the row since the asker read it. */
export class Stale extends Error {
  constructor(what: string) {
    super(`${what} has been changed since it was read; read it again and repeat the change`)
    this.name = 'Stale'
  }
}

/** A change must say which version it is based on, and this one does not. */
export class PreconditionRequired extends Error {
  constructor() {
    super('send If-Match with the ETag that came with the last reading')
    this.name = 'PreconditionRequired'
  }
}

/** A part of the service besides the database that does not answer just now; `part` as a sentence names it. */
export class PartAway extends Error {
  readonly part: string

  constructor(part: string, cause: unknown) {
    super(`${part} does not answer just now`, { cause })
    this.name = 'PartAway'
    this.part = part
  }
}
