import { PREFERENCES_OF_PROGRAMS, type PreferencesChange, type PreferencesView } from '../../contract/preferences.js'
import type { Db } from '../../db/client.js'
import { findPreferences, type PreferencesRow, savePreferences } from '../../db/repositories/preferences.js'
import { NotFound } from '../errors.js'
import type { SignedInPerson } from './sign-in.js'

const NO_CHOICE: PreferencesView = { language: null, massUnit: null, temperatureUnit: null, timeZone: null }

/** How a person likes to read, in whichever organisation they act. */
export class PreferenceService {
  private readonly across: Db
  private readonly now: () => Date

  constructor(across: Db, now: () => Date) {
    this.across = across
    this.now = now
  }

  /** @param person undefined for a program */
  async of(person: SignedInPerson | undefined): Promise<PreferencesView> {
    if (person === undefined) return PREFERENCES_OF_PROGRAMS
    const row = await findPreferences(this.across, person.userId)
    return row === undefined ? NO_CHOICE : viewOf(row)
  }

  /** @throws NotFound for a program: it has none to change */
  async change(person: SignedInPerson | undefined, change: PreferencesChange): Promise<PreferencesView> {
    if (person === undefined) throw new NotFound('a person behind this key, whose preferences they would be')
    return viewOf(await savePreferences(this.across, person.userId, change, this.now()))
  }
}

function viewOf({ language, massUnit, temperatureUnit, timeZone }: PreferencesRow): PreferencesView {
  return { language, massUnit, temperatureUnit, timeZone }
}
