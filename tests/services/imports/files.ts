import type { ImportSource } from '../../../src/services/imports/import-service.js'

/** Contents of files by their names. */
export type Files = Readonly<Record<string, string | Uint8Array<ArrayBuffer>>>

/** Files as an import takes them. */
export async function* asSources(files: Files): AsyncGenerator<ImportSource> {
  for (const [name, content] of Object.entries(files)) yield { name, content: inPieces(content) }
}

const BYTES_A_PIECE = 64 * 1024

async function* inPieces(content: string | Uint8Array): AsyncGenerator<Uint8Array> {
  const bytes = typeof content === 'string' ? Buffer.from(content, 'utf8') : content
  for (let start = 0; start < bytes.length; start += BYTES_A_PIECE) yield bytes.subarray(start, start + BYTES_A_PIECE)
}

/** Two boats in a harbour: a row for each kind of thing, quotes, commas and umlauts among them. */
export const SMALL_FLEET = {
  'berths.csv': `berth,pontoon,water,salinity_psu,latitude,longitude,shore_power
A1,A,salt,34.5,54.1,10.2,yes
"A2, outer",A,brackish,,,,no
R1,,,,,,
`,
  'boats.csv': `boat,owner_name,owner_email,hull,galvanic_isolator,launched_year
Avocet,"Okafor, Ines",ines@example.org,grp,no,2009
"The ""Dunlin""",Jörg Møller,,steel,unknown,
Stint,,,,,
`,
  'fittings.csv': `boat,fitting,metal,area_cm2,coated,bonded
Avocet,propeller,manganese-bronze,850,no,yes
Avocet,shaft,stainless-316-active,1200,,
`,
  'anodes.csv': `boat,anode,position,alloy,shape,fitted_on,removed_on,gross_mass_g,core_mass_g,length_mm,width_mm,height_mm,bonded
Avocet,S1,shaft,zinc,collar,2023-04-01,2024-04-02,1000,80,,,,yes
Avocet,S2,shaft,zinc,collar,2024-04-02,,1000,80,,,,yes
Avocet,H1,hull,zinc,plate,2023-04-01,,2500,200,300,150,30,yes
Avocet,H2,hull,zinc,plate,2023-04-01,,2500,200,300,150,30,yes
"The ""Dunlin""",H1,hull port aft,,,,,,,,,,
`,
  'stays.csv': `boat,from,to,berth,shore_power_hours_per_day
Avocet,2023-04-05,2023-11-01,A1,12
Avocet,2023-11-01,2024-04-05,,
Avocet,2024-04-05,,"A2, outer",0.5
`,
  'weighings.csv': `boat,anode,weighed_on,method,mass_g,resolution_g,cleaned,submerged_mass_g,submerged_in,wasted_percent,length_mm,width_mm,height_mm,condition
Avocet,S1,2024-04-02,scale,620.5,1,yes,530,fresh,,,,,even;bright
Avocet,H1,2024-04-02,dimensions,,,,,,,280,150,25,
Avocet,H2,2024-04-02,visual,,,,,,30,,,,crusted
Avocet,S2,2025-04-01,,700,5,no,,,,,,,
`,
  'potentials.csv': `boat,measured_at,fitting,reference,volts,shore_power,circuits
Avocet,2024-06-01T09:30:00Z,,ag-agcl-seawater,-0.95,connected,on
Avocet,2024-06-01T11:45:00+02:00,propeller,zinc,0.1,disconnected,
`,
  'continuity.csv': `boat,measured_at,from,to,ohms
Avocet,2024-06-01T09:40:00Z,S2,bond,0.3
Avocet,2024-06-01,propeller,H1,12.5
`,
  'haul-outs.csv': `boat,on,relaunched_on,planned
Avocet,2023-11-01,2024-04-05,yes
Avocet,2099-11-01,,yes
`,
} as const satisfies Files
