import { config } from 'zod'

/**
 * Zod tries at first use whether it may compile its checks with `new Function`; under the service's content security
 * policy it may not, and each try is reported as a violation. Imported before any schema is built.
 */
config({ jitless: true })
