import { defineConfig } from 'drizzle-kit'

// Paths are from the working directory, the project's root.
export default defineConfig({
  dialect: 'postgresql',
  schema: './src/db/schema/index.ts',
  out: './migrations',
})
