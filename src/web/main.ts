import { config } from 'zod'
import './design/tokens.css'
import './design/base.css'
import './design/content.css'
import './design/controls.css'
import './drawing/drawing.css'

/**
 * Zod tries at first use whether it may compile its checks with `new Function`; under the service's content security
 * policy it may not, and each try is reported as a violation. So that comes first, and only then any module that builds
 * a schema: bundled together, their order would be the bundler's.
 */
config({ jitless: true })
void import('./app.js')
