/** A place a published value comes from. */
export interface Source {
  readonly key: string
  readonly title: string
  /** How far it was read: values recalled from memory are marked so in their rows too. */
  readonly read: string
}
