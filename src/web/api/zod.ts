import { config } from 'zod/v4'

/**
 * What the pages know as `zod`, by their build. Zod tries at first use whether it may compile its checks with
 * `new Function`; under the service's content security policy it may not, and each try is reported as a violation. So it
 * is told before any module has built a schema.
 */
config({ jitless: true })

export * from 'zod/v4'
