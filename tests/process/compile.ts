import type { TestProject } from 'vitest/node'
import { compileService } from './compile-service.js'

declare module 'vitest' {
  export interface ProvidedContext {
    /** The folder of the compiled service, as `npm run build` makes it, for this run of the tests alone. */
    compiledService: string
  }
}

/** Once for the whole run. */
export default function compile(project: TestProject): () => void {
  const { folder, remove } = compileService()
  project.provide('compiledService', folder)
  return remove
}
