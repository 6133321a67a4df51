/** What is used of it here; the package brings no types. */
declare module 'autocannon' {
  interface Options {
    readonly url: string
    readonly connections: number
    readonly amount: number
    /** Seconds until an answer counts as an error. */
    readonly timeout: number
    readonly headers?: Readonly<Record<string, string>>
  }
  interface Result {
    readonly non2xx: number
    readonly errors: number
    /** Seconds. */
    readonly duration: number
  }
  interface Running extends PromiseLike<Result> {
    on(event: 'response', listen: (client: unknown, status: number, bytes: number, milliseconds: number) => void): void
  }
  export default function autocannon(options: Options): Running
}
