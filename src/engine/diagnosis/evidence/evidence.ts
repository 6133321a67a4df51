/** One observation made: its key and state in the tables of evidence, and a sentence that tells it with its figures. */
export interface Evidence {
  readonly observation: string
  readonly state: string
  readonly what: string
}
