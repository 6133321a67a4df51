import type { z } from 'zod'

/** The schema, for inputs that give one of two fields but not both. */
export function exactlyOne<S extends z.ZodObject>(schema: S, one: string, other: string): S {
  return schema.check((context) => {
    const given = [one, other].filter((field) => context.value[field] !== undefined)
    if (given.length === 1) return
    const message = given.length === 0 ? `give ${one} or ${other}` : `give ${one} or ${other}, not both`
    context.issues.push({ code: 'custom', input: context.value, path: [given.length === 0 ? one : other], message })
  })
}

/** The schema, for inputs whose optional fields belong to one choice each: what the choice needs is asked, what it does not use refused. */
export function fieldsOfChoice<S extends z.ZodObject>(
  schema: S,
  choice: string,
  fieldsOf: Readonly<Record<string, readonly string[]>>,
): S {
  const optional = new Set(Object.values(fieldsOf).flat())
  return schema.check((context) => {
    const chosen = String(context.value[choice])
    const needed = fieldsOf[chosen]
    if (needed === undefined) return
    for (const field of optional) {
      const isGiven = context.value[field] !== undefined
      if (isGiven === needed.includes(field)) continue
      const message = isGiven ? `is not used with ${choice} ${chosen}` : `is required with ${choice} ${chosen}`
      context.issues.push({ code: 'custom', input: context.value, path: [field], message })
    }
  })
}
