/** A quantity outside the range a formula is valid for. Carries what was given, so that a caller can name the field. */
export class OutOfRange extends Error {
  readonly quantity: string
  readonly value: unknown
  readonly validRange: string

  constructor(quantity: string, value: unknown, validRange: string) {
    super(`${quantity} must be ${validRange}, got ${String(value)}`)
    this.name = 'OutOfRange'
    this.quantity = quantity
    this.value = value
    this.validRange = validRange
  }
}

/** An iteration that did not settle. Carries how far it went, so that the failure can be judged. */
export class NotConverged extends Error {
  readonly iterations: number
  readonly lastStep: number

  constructor(what: string, iterations: number, lastStep: number) {
    super(`${what} did not converge after ${iterations} iterations (last step ${lastStep.toExponential(2)})`)
    this.name = 'NotConverged'
    this.iterations = iterations
    this.lastStep = lastStep
  }
}
