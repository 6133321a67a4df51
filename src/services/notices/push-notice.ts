import type { NoticeRow } from '../../db/repositories/notices.js'
import { LANGUAGES, type Language } from '../../messages/languages.js'
import type { MailMessage } from '../../outside/mail.js'
import type { PushService } from '../push/push-service.js'

/** Brings what a letter says to the devices on which its reader switched notifications on: its subject and its first sentence. */
export async function pushNotice(
  push: PushService,
  { email, boatId, kind }: NoticeRow,
  { subject, text, headers }: MailMessage,
): Promise<void> {
  const [body = ''] = text.split('\n\n')
  await push.pushToPerson(email, {
    title: subject,
    body: body.replaceAll('\n', ' '),
    path: PATHS[kind],
    tag: boatId ?? kind,
    lang: languageOf(headers?.['Content-Language']),
  })
}

const PATHS: Readonly<Record<NoticeRow['kind'], string>> = {
  boat: '/yours',
  summary: '/yours',
  digest: '/desk',
  lifts: '/lift',
}

function languageOf(tag: string | undefined): Language {
  return LANGUAGES.find((each) => each === tag) ?? 'en'
}
