import type { Language } from '../../messages/languages.js'
import type { MailMessage } from '../../outside/mail.js'
import { spokenIn } from '../../outside/words/spoken.js'
import type { Device } from './device-of.js'

interface Reader {
  readonly to: string
  readonly language: Language
}

/** The way in: a link that works once. */
export function signInLetter({ to, language }: Reader, link: string, minutes: number): MailMessage {
  const t = spokenIn(language, 'access')
  const how = t('linkHow', { button: t('linkButton'), minutes })
  return { to, subject: t('linkSubject'), text: [how, '', link, '', t('linkNotYou')].join('\n') }
}

/** Tells somebody that an organisation has made them a member. */
export function invitationLetter({ to, language }: Reader, organisation: string, publicUrl: string): MailMessage {
  const t = spokenIn(language, 'access')
  const how = t('invitationHow', { address: new URL('/sign-in', publicUrl).href })
  return { to, subject: t('invitationSubject'), text: [t('invitation', { organisation }), '', how].join('\n') }
}

/** Tells a person that a new key opens the service in their name: whoever did not add it must hear of it. */
export function passkeyLetter({ to, language }: Reader, { browser, system }: Device, publicUrl: string): MailMessage {
  const t = spokenIn(language, 'access')
  const device = t('device', { browser: browser ?? t('someBrowser'), system: system ?? t('someSystem') })
  return {
    to,
    subject: t('passkeySubject'),
    text: [t('passkeyAdded', { device }), '', t('passkeyNotYou'), new URL('/settings', publicUrl).href].join('\n'),
  }
}
