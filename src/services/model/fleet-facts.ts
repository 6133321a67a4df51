import type { FleetRecords } from '../../db/repositories/fleet-records.js'
import type {
  AnodeFacts,
  AnodeLook,
  BoatFacts,
  FittingFacts,
  FleetFacts,
  PotentialReading,
  ShorePowerStay,
} from '../../engine/diagnosis/fleet-facts.js'
import { dayNumber, dayOfInstant } from '../dates/day-numbers.js'
import { groupBy, numberOrNull } from './fleet-history.js'

type RowOf<Table extends 'berths' | 'boats' | 'fittings' | 'stays' | 'weighings' | 'potentials' | 'continuity'> =
  FleetRecords[Table][number]

/** What of a fleet's rows its facts are made from: the tables have it, and so have the CSV files. */
export interface RecordedFacts {
  readonly pontoons: readonly Pick<FleetRecords['pontoons'][number], 'id' | 'name'>[]
  readonly berths: readonly Pick<
    RowOf<'berths'>,
    'id' | 'name' | 'pontoonId' | 'water' | 'salinityPsu' | 'shorePower'
  >[]
  readonly boats: readonly Pick<RowOf<'boats'>, 'id' | 'name' | 'hull' | 'galvanicIsolator'>[]
  readonly fittings: readonly FittingRecord[]
  readonly stays: readonly Pick<RowOf<'stays'>, 'boatId' | 'berthId' | 'fromOn' | 'toOn' | 'shorePowerHoursPerDay'>[]
  readonly potentials: readonly PotentialRecord[]
  readonly continuity: readonly Pick<RowOf<'continuity'>, 'boatId' | 'measuredAt' | 'fromName' | 'toName' | 'ohms'>[]
  readonly anodes: readonly {
    readonly anode: Pick<FleetRecords['anodes'][number]['anode'], 'id' | 'boatId' | 'name' | 'bonded'>
  }[]
  readonly weighings: readonly LookRecord[]
}

type FittingRecord = Pick<RowOf<'fittings'>, 'id' | 'boatId' | 'name' | 'metal' | 'areaCm2' | 'coated' | 'bonded'>
type PotentialRecord = Pick<
  RowOf<'potentials'>,
  'boatId' | 'fittingId' | 'measuredAt' | 'reference' | 'volts' | 'shorePower' | 'circuits'
>
type LookRecord = Pick<
  RowOf<'weighings'>,
  'anodeId' | 'weighedOn' | 'massG' | 'resolutionG' | 'submergedMassG' | 'submergedIn' | 'conditions'
>

/** What a fleet's rows say beyond masses and stays, as the engine's plain values: keyed as `fleetHistoryOf` keys them. */
export function fleetFactsOf(records: RecordedFacts): FleetFacts {
  const pontoonNames = new Map(records.pontoons.map(({ id, name }) => [id, name]))
  const factsOfBoat = boatReader(records)
  return {
    berths: records.berths.map(({ name, pontoonId, water, salinityPsu, shorePower }) => ({
      berth: name,
      pontoon: pontoonId === null ? null : (pontoonNames.get(pontoonId) ?? null),
      water,
      salinityPsu,
      hasShorePower: shorePower,
    })),
    boats: records.boats.map(factsOfBoat),
  }
}

function boatReader(records: RecordedFacts): (boat: RecordedFacts['boats'][number]) => BoatFacts {
  const berthNames = new Map(records.berths.map(({ id, name }) => [id, name]))
  const fittingNames = new Map(records.fittings.map(({ id, name }) => [id, name]))
  const fittings = groupBy(records.fittings, ({ boatId }) => boatId)
  const stays = groupBy(records.stays, ({ boatId }) => boatId)
  const potentials = groupBy(records.potentials, ({ boatId }) => boatId)
  const continuity = groupBy(records.continuity, ({ boatId }) => boatId)
  const anodes = groupBy(records.anodes, ({ anode }) => anode.boatId)
  const weighings = groupBy(records.weighings, ({ anodeId }) => anodeId)
  return ({ id, name, hull, galvanicIsolator }) => ({
    boat: name,
    hull,
    hasIsolator: galvanicIsolator === null || galvanicIsolator === 'unknown' ? null : galvanicIsolator === 'yes',
    fittings: (fittings.get(id) ?? []).map(fittingFacts),
    stays: (stays.get(id) ?? []).map((stay) => shorePowerStay(stay, berthNames)),
    potentials: (potentials.get(id) ?? []).map((reading) => potentialReading(reading, fittingNames)),
    continuity: (continuity.get(id) ?? []).map(({ measuredAt, fromName, toName, ohms }) => ({
      on: dayOfInstant(measuredAt),
      from: fromName,
      to: toName,
      ohms,
    })),
    anodes: (anodes.get(id) ?? []).map(
      ({ anode }): AnodeFacts => ({
        key: anode.id,
        anode: anode.name,
        bonded: anode.bonded,
        looks: (weighings.get(anode.id) ?? []).flatMap(lookOf),
      }),
    ),
  })
}

function fittingFacts({ name, metal, areaCm2, coated, bonded }: FittingRecord): FittingFacts {
  return { fitting: name, metal, areaCm2, coated, bonded }
}

function shorePowerStay(
  { fromOn, toOn, berthId, shorePowerHoursPerDay }: RecordedFacts['stays'][number],
  berthNames: ReadonlyMap<string, string>,
): ShorePowerStay {
  return {
    from: dayNumber(fromOn),
    to: numberOrNull(toOn),
    berth: berthId === null ? null : (berthNames.get(berthId) ?? null),
    hoursPerDay: shorePowerHoursPerDay,
  }
}

function potentialReading(
  { measuredAt, fittingId, reference, volts, shorePower, circuits }: PotentialRecord,
  fittingNames: ReadonlyMap<string, string>,
): PotentialReading {
  return {
    on: dayOfInstant(measuredAt),
    fitting: fittingId === null ? null : (fittingNames.get(fittingId) ?? null),
    reference,
    volts,
    shorePower,
    circuits,
  }
}

/** Nothing for a weighing that tells a mass alone. */
function lookOf(weighing: LookRecord): AnodeLook[] {
  const { weighedOn, conditions, massG, submergedMassG, submergedIn, resolutionG } = weighing
  if (conditions.length === 0 && submergedMassG === null) return []
  return [{ on: dayNumber(weighedOn), conditions, dryMassG: massG, submergedMassG, submergedIn, resolutionG }]
}

/**
 * The part of the facts that was known on a day, as `knownBy` has it for a history. What has no date of its own (a hull, an isolator, a
 * fitting, the water of a berth) counts as known all along.
 *
 * @param asOf day number
 * @param today day number: stays that begin after it are plans; those between `asOf` and `today` are not yet known
 */
export function factsKnownBy(facts: FleetFacts, asOf: number, today: number): FleetFacts {
  const isKnown = ({ on }: { readonly on: number }) => on <= asOf
  return {
    berths: facts.berths,
    boats: facts.boats.map((boat) => ({
      ...boat,
      stays: asOf >= today ? boat.stays : staysKnownBy(boat.stays, asOf),
      potentials: boat.potentials.filter(isKnown),
      continuity: boat.continuity.filter(isKnown),
      anodes: boat.anodes.map((anode) => ({ ...anode, looks: anode.looks.filter(isKnown) })),
    })),
  }
}

function staysKnownBy(stays: readonly ShorePowerStay[], asOf: number): ShorePowerStay[] {
  return stays
    .filter(({ from }) => from <= asOf)
    .map((stay) => ((stay.to ?? -Infinity) > asOf ? { ...stay, to: null } : stay))
}
