import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { LANGUAGES } from '../../../src/messages/languages.js'
import { PROJECT_ROOT } from '../../../src/project-root.js'
import { invitationLetter, passkeyLetter, signInLetter } from '../../../src/services/access/access-letters.js'

const LINK = 'https://yard.example.org/sign-in/link?token=abc'
const SITE = 'https://yard.example.org'

describe.each(LANGUAGES)('letters of the sign-in in %s', (language) => {
  const reader = { to: 'ada@example.org', language }

  it('name the button as the page has it, and hold the link on a line of its own', () => {
    const file = join(PROJECT_ROOT, 'src', 'messages', language, 'shell.json')
    const button: string = JSON.parse(readFileSync(file, 'utf8')).signIn.title
    const { text } = signInLetter(reader, LINK, 15)
    expect(text).toContain(button)
    expect(text).toContain('15')
    expect(text.split('\n')).toContain(LINK)
  })

  it('leave no place unfilled', () => {
    const device = { browser: null, system: 'Android' }
    const letters = [
      signInLetter(reader, LINK, 15),
      invitationLetter(reader, 'Harbour & Sons <1>', SITE),
      passkeyLetter(reader, device, SITE),
    ]
    for (const { subject, text } of letters) expect(subject + text).not.toMatch(/\{\{|undefined|null/)
    expect(letters[1]!.text).toContain('Harbour & Sons <1>')
    expect(letters[2]!.text).toContain('Android')
  })
})
