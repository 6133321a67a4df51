import type { Source } from './source.js'
import { STATISTICS_SOURCES } from './statistics-sources.js'

export type { Source } from './source.js'

/** Every source that a row of the reference tables may name; `docs/sources.md` is the same list for readers. */
export const SOURCES = [
  { key: 'codata-2018', title: 'CODATA recommended values of the fundamental physical constants, 2018', read: 'cited' },
  { key: 'iupac-atomic-weights', title: 'Standard atomic weights, IUPAC', read: 'from memory' },
  {
    key: 'astm-g102',
    title: 'ASTM G102, corrosion rates from electrochemical measurements, Table 1 (equivalent weights)',
    read: 'from memory',
  },
  {
    key: 'she-convention',
    title: 'Convention: the standard hydrogen electrode is the zero of the potential scale',
    read: 'by definition',
  },
  {
    key: 'aca-flowing-seawater',
    title:
      'Australasian Corrosion Association, "Seawater corrosion", student and teacher resources: the flowing-seawater galvanic series of ASTM G82 and handbooks as a table',
    read: 'read',
  },
  {
    key: 'small-craft-list',
    title: '"About the galvanic series chart", a list printed for boat builders',
    read: 'read',
  },
  {
    key: 'rp-b401',
    title:
      'DNV-RP-B401, Cathodic protection design: Tables 10-1, 10-2 (current densities), 10-4 (coatings), 10-6 (anode alloys), 10-7 (resistance), 10-8 (utilisation); sections 6.4 and 7.7-7.9',
    read: 'cover and contents read; figures from memory unless another source of the row confirms them',
  },
  {
    key: 'harbour-calculation',
    title: '"Design Calculation of Terminal A", sheet piling with sacrificial anodes to DNV-RP-B401',
    read: 'read',
  },
  {
    key: 'bracelet-sheet',
    title: '"Cathodic protection design for bracelet anode", to DNV-RP-B401 (2010)',
    read: 'read',
  },
  { key: 'pipeline-report', title: '"Pipeline Cathodic Protection Design Report", rev. 1', read: 'read' },
  {
    key: 'mil-hdbk-1004-10-p198',
    title: 'MIL-HDBK-1004/10, Electrical Engineering: Cathodic Protection (in UFC 3-570-02N, 2004), printed page 198',
    read: 'read',
  },
  { key: 'mil-hdbk-1004-10-p201', title: 'MIL-HDBK-1004/10, printed page 201', read: 'read' },
  { key: 'mil-hdbk-1004-10-p209', title: 'MIL-HDBK-1004/10, printed page 209', read: 'read' },
  { key: 'mil-hdbk-1004-10-p211', title: 'MIL-HDBK-1004/10, printed page 211', read: 'read' },
  {
    key: 'tp-17',
    title: 'Tri-Services Electrical TP-17, Feb. 2017, Galvanic anode material selection and design',
    read: 'read',
  },
  {
    key: 'corrosion-engineering-p554',
    title: 'Corrosion Engineering: Principles and Practice, ch. 13, pp. 554-555',
    read: 'read',
  },
  {
    key: 'mil-18001-page',
    title: `A supplier's page, "US Military specification for zinc anodes" (MIL-A-18001K and its background)`,
    read: 'read',
  },
  {
    key: 'zinc-standards-page',
    title: "A manufacturer's page on zinc anodes that compares four standards (in German)",
    read: 'read',
  },
  {
    key: 'study-guide-sheet',
    title: '"Zinc anode weight computation", a sizing sheet that cites a corrosion certification study guide for boats',
    read: 'read',
  },
  { key: 'surveyors-report-2017', title: 'The Report (marine surveyors), March 2017, issue 79, p. 40', read: 'read' },
  { key: 'ship-hull-sheet', title: '"Anode requirements for ships hull", a calculation sheet', read: 'read' },
  { key: 'tank-anode-page', title: `A manufacturer's page "Calculations" on ballast tank anodes`, read: 'read' },
  {
    key: 'materials-and-corrosion-2024',
    title: '"Cathodic protection of aluminium in seawater", Materials and Corrosion, 2024',
    read: 'abstract read',
  },
  {
    key: 'handbook-range',
    title: 'Range given in corrosion handbooks for propellers, fittings and shafts',
    read: 'from memory',
  },
  {
    key: 'en-12473',
    title: 'EN 12473 / ISO 12473, General principles of cathodic protection in seawater: criteria and electrode annex',
    read: 'from memory',
  },
  {
    key: 'en-12473-page',
    title: 'Page "Cathodic protection potential", which sums up BS EN 12473',
    read: 'steel part read',
  },
  { key: 'sp0176-page', title: 'Page "Cathodic protection standards", which sums up SP0176-2007', read: 'read' },
  {
    key: 'cp-notes',
    title: 'Design notes on cathodic protection in a public repository, criteria and formulas section',
    read: 'read',
  },
  {
    key: 'boat-voltages-page',
    title: `A supplier's page "Cathodic protection voltages", with a table in the manner of ABYC E-2`,
    read: 'read',
  },
  {
    key: 'troubleshooting-manual-p109',
    title: 'Advanced Marine Electrics and Electronics Troubleshooting, p. 109',
    read: 'read',
  },
  {
    key: 'troubleshooting-manual-p110',
    title: 'Advanced Marine Electrics and Electronics Troubleshooting, p. 110',
    read: 'read',
  },
  {
    key: 'troubleshooting-manual-p111',
    title: 'Advanced Marine Electrics and Electronics Troubleshooting, p. 111',
    read: 'read',
  },
  { key: 'surveyor-note-wood', title: "A surveyor's note on decay of wood round bonded fittings", read: 'read' },
  { key: 'surveyors-notes', title: "Surveyors' notes on wooden boats", read: 'read' },
  { key: 'int-j-corrosion-table-2', title: 'International Journal of Corrosion, 2010, 756950, Table 2', read: 'read' },
  {
    key: 'mp-reference-article',
    title: '"A guide to understanding reference electrode readings", Materials Performance',
    read: 'read',
  },
  { key: 'reference-half-cells-page', title: '"Conversion between reference electrodes", a course page', read: 'read' },
  {
    key: 'unesco-44',
    title:
      'UNESCO Technical Papers in Marine Science 44 (Fofonoff and Millard, 1983): equation of state of seawater, EOS-80',
    read: 'check values read',
  },
  {
    key: 'culkin-smith-1980',
    title:
      'Culkin and Smith, Determination of the concentration of potassium chloride solution having the same electrical conductivity, at 15 °C and infinite frequency, as standard seawater, IEEE Journal of Oceanic Engineering OE-5 (1980) 22-23',
    read: 'its conductivity read in the tests of public libraries; title from memory',
  },
  {
    key: 'hill-1986',
    title:
      'Hill, Dauphinee and Woods, The extension of the Practical Salinity Scale 1978 to low salinities, IEEE Journal of Oceanic Engineering OE-11 (1986) 109-112',
    read: 'its arguments read in an instrument manual; denominators and title from memory',
  },
  { key: 'cci-notes-9-10', title: 'CCI Notes 9/10, How to determine metal density', read: 'read' },
  {
    key: 'public-density-tables',
    title: 'Density tables of metals on several public pages',
    read: 'read for common metals; from memory where the row says so',
  },
  {
    key: 'gum-f-2-2-1',
    title:
      'JCGM 100:2008, Guide to the expression of uncertainty in measurement, F.2.2.1: the resolution of a digital indication',
    read: 'from memory',
  },
  {
    key: 'astm-g1',
    title: 'ASTM G1, preparing, cleaning and evaluating corrosion test specimens',
    read: 'from memory',
  },
  {
    key: 'astm-g31',
    title:
      'ASTM G31, laboratory immersion corrosion testing of metals: the constants of the corrosion rate, as in ASTM G1',
    read: 'two constants read in public pages; the others from memory, checked by arithmetic',
  },
  {
    key: 'anode-r-note',
    title: '"Anode resistance equations", a student project of 2021-2022: modified Dwight, Lloyd, McCoy',
    read: 'read',
  },
  { key: 'abyc-e-2', title: 'ABYC E-2, Cathodic protection', read: 'from memory' },
  { key: 'abyc-a-28', title: 'ABYC A-28, Galvanic isolators', read: 'from memory' },
  {
    key: 'ufc-4-150-07',
    title: 'UFC 4-150-07 (2001), Maintenance and operation of waterfront facilities, 3-4.3.3.1',
    read: 'read',
  },
  { key: 'corrosion-16-8', title: 'Corrosion, vol. 16 no. 8, on iron in zinc anodes', read: 'abstract read' },
  { key: 'boat-club-safety-article', title: "A boat club's safety article", read: 'read' },
  { key: 'owners-tip-column', title: 'A tip column for boat owners', read: 'read' },
  { key: 'metal-finishing-page', title: 'Page of a metal-finishing supplier', read: 'read' },
  { key: 'chandlery-page', title: "A chandlery's page on replacing anodes", read: 'read' },
  { key: 'chandlery-technical-page', title: "A chandlery's technical page on water resistivity", read: 'read' },
  { key: 'divers-advice-page', title: "A diver's advice page", read: 'read' },
  { key: 'technician-forum-post', title: "A technician's post in a boating forum", read: 'read; weak evidence' },
  { key: 'owners-forum-post', title: "Post in a boat owners' forum", read: 'read; weak evidence' },
  { key: 'anode-guide-page', title: 'A public guide to anodes', read: 'read' },
  { key: 'corrosion-consultant-page', title: 'Page of a marine corrosion consultant', read: 'read' },
  { key: 'surveyors-article', title: "A surveyor's article on stray current", read: 'read' },
  { key: 'sailing-magazine-article', title: "A sailing magazine's article on the shore earth", read: 'read' },
  { key: 'boating-magazine-article', title: "A boating magazine's article on galvanic isolators", read: 'read' },
  { key: 'iaei-2016', title: 'IAEI Magazine, Sept. 2016, on NEC Article 555', read: 'read' },
  { key: 'esfi', title: 'Electrical Safety Foundation International, advice on marinas', read: 'read' },
  {
    key: 'fire-rescue-page',
    title: "A county fire and rescue service's page on electric shock drowning",
    read: 'read',
  },
  ...STATISTICS_SOURCES,
  {
    key: 'anodic-index-pages',
    title: 'Several public engineering pages on the anodic index: differences tolerated by surroundings',
    read: 'read',
  },
  {
    key: 'mil-std-1250-page',
    title: 'MIL-STD-1250A, on dissimilar metals, a page that reproduces it (p. 28)',
    read: 'read',
  },
  {
    key: 'area-ratio-note',
    title: `A materials consultancy's note "Galvanic Corrosion 1", 21 April 2016`,
    read: 'read',
  },
  {
    key: 'copper-antifouling-2015',
    title:
      'Bagley, Atlar, Charles, Anderson, The use of copper-based antifoulings on aluminium ship hulls, Ocean Engineering 109 (2015) 595-602',
    read: 'abstract read',
  },
  { key: 'seacock-article', title: "A boating magazine's article on seacocks, April 2014", read: 'read in part' },
  { key: 'surveyors-lexicon', title: 'A lexicon for marine surveyors, entry on bronze', read: 'read' },
  {
    key: 'good-1950',
    title: 'Good, Probability and the Weighing of Evidence (1950): weights of evidence',
    read: 'from memory',
  },
  {
    key: 'lindley-1956',
    title:
      'Lindley, On a measure of the information provided by an experiment, Annals of Mathematical Statistics 27 (1956) 986-1005',
    read: 'from memory',
  },
  { key: 'boating-practice', title: 'Common practice of yards, surveyors and boat owners', read: 'from memory' },
  { key: 'this-project', title: 'A choice made in this project; the note says why', read: 'assumption' },
] as const satisfies readonly Source[]

export type SourceKey = (typeof SOURCES)[number]['key']

const SOURCE_OF_KEY = new Map<SourceKey, Source>(SOURCES.map((source) => [source.key, source]))

/** The source behind a key. */
export function source(key: SourceKey): Source {
  return SOURCE_OF_KEY.get(key)!
}
