import { ANODE_ALLOY_ROWS } from '../../engine/reference/anode-alloys.js'
import { ANODE_DESIGN } from '../../engine/reference/anode-design.js'
import { ANODE_UTILISATION } from '../../engine/reference/anode-utilisation.js'
import { CAUSE_PRIORS, HIDDEN_CONDITIONS } from '../../engine/reference/cause-priors.js'
import { COATING_BREAKDOWN } from '../../engine/reference/coating-breakdown.js'
import { CORROSION_RATE_CONSTANTS } from '../../engine/reference/corrosion-rate-constants.js'
import { CRITERION_OF_GROUP, CRITERION_OF_HULL } from '../../engine/reference/criteria-of-metals.js'
import { CURRENT_DEMAND } from '../../engine/reference/current-demand.js'
import { DIAGNOSIS_CHECKS } from '../../engine/reference/diagnosis-checks.js'
import { ELEMENTS } from '../../engine/reference/elements.js'
import { FITTING_DEMAND } from '../../engine/reference/fitting-demand.js'
import { GALVANIC_CAUTIONS } from '../../engine/reference/galvanic-cautions.js'
import { AREA_STEPS, GALVANIC_AUDIT_FIGURES, POTENTIAL_STEPS } from '../../engine/reference/galvanic-grades.js'
import { GALVANIC_SERIES } from '../../engine/reference/galvanic-series.js'
import { SMALL_CRAFT_GALVANIC_SERIES } from '../../engine/reference/galvanic-series-small-craft.js'
import { METAL_DENSITIES } from '../../engine/reference/metal-densities.js'
import { PROTECTION_CRITERIA } from '../../engine/reference/protection-criteria.js'
import { REFERENCE_ELECTRODE_ROWS } from '../../engine/reference/reference-electrodes.js'
import { REPLACEMENT_AND_INSPECTION } from '../../engine/reference/replacement-and-inspection.js'
import { SEAWATER_POLYNOMIALS } from '../../engine/reference/seawater-scales.js'
import { SIGNS_AND_SAFETY } from '../../engine/reference/signs-and-safety.js'
import { SIGNS_IN_WEAR } from '../../engine/reference/signs-in-wear.js'
import { SIGNS_ON_BOARD } from '../../engine/reference/signs-on-board.js'
import { TELLING_READINGS } from '../../engine/reference/telling-readings.js'
import { WATER_DENSITIES } from '../../engine/reference/water-densities.js'
import { keyed, referenceTable } from './reference-table.js'
import { checkRows, likelihoodRows } from './unrolled-rows.js'

/** Every table that is served and shown. A line here is all that a new one takes. */
export const REFERENCE_TABLES = [
  referenceTable(
    'galvanic-series',
    'Galvanic series',
    'Free corrosion potentials in flowing seawater, most noble first.',
    GALVANIC_SERIES,
  ),
  referenceTable(
    'galvanic-series-small-craft',
    'Galvanic series for small craft',
    'A list printed for boat builders, most active first.',
    SMALL_CRAFT_GALVANIC_SERIES,
  ),
  referenceTable(
    'galvanic-grades',
    'Grades of pairs',
    'Steps of the grade by difference of potential and by area ratio.',
    [...POTENTIAL_STEPS, ...AREA_STEPS],
  ),
  referenceTable(
    'galvanic-audit',
    'Figures of the galvanic audit',
    'Single figures that the audit of a boat goes by.',
    keyed(GALVANIC_AUDIT_FIGURES),
  ),
  referenceTable(
    'galvanic-cautions',
    'Cautions of the galvanic audit',
    'What to look out for by metal and by mixture.',
    GALVANIC_CAUTIONS,
  ),
  referenceTable(
    'anode-alloys',
    'Anode alloys',
    'Capacity, density, potential and waters of each alloy, by specification.',
    ANODE_ALLOY_ROWS,
  ),
  referenceTable(
    'protection-criteria',
    'Protection criteria',
    'Potentials at which a metal or a hull counts as protected, and those that do harm.',
    PROTECTION_CRITERIA,
  ),
  referenceTable(
    'criteria-of-metals',
    'Criteria by metal and hull',
    'Which protection criterion the audit takes for which metals and hulls.',
    [...CRITERION_OF_GROUP, ...CRITERION_OF_HULL],
  ),
  referenceTable(
    'electrode-conversion',
    'Reference electrodes',
    'Potentials of the electrodes on the hydrogen scale at 25 °C.',
    REFERENCE_ELECTRODE_ROWS,
  ),
  referenceTable('current-demand', 'Current demand', 'Design current densities of protected surfaces.', CURRENT_DEMAND),
  referenceTable(
    'fitting-demand',
    'Current demand of fittings',
    'Which row of the current demand stands for which metals on a boat.',
    FITTING_DEMAND,
  ),
  referenceTable(
    'coating-breakdown',
    'Coating breakdown',
    'Share of the bare current that a coating lets through: a when new, and b more each year.',
    COATING_BREAKDOWN,
  ),
  referenceTable(
    'anode-utilisation',
    'Utilisation factors',
    'Share of the net mass that may be counted on, by shape.',
    ANODE_UTILISATION,
  ),
  referenceTable(
    'anode-design',
    'Anode design',
    'Figures in the relations that anodes are sized with.',
    keyed(ANODE_DESIGN),
  ),
  referenceTable(
    'thresholds',
    'Replacement and inspection',
    'When to replace, how to look and weigh, how long an anode usually lasts.',
    REPLACEMENT_AND_INSPECTION,
  ),
  referenceTable(
    'signs-and-safety',
    'Signs and safety',
    'What worn anodes and metals look like, and what must never be forgotten near the water.',
    SIGNS_AND_SAFETY,
  ),
  referenceTable(
    'metal-densities',
    'Densities of metals',
    'Densities of anode alloys and of metals they may be mistaken for.',
    METAL_DENSITIES,
  ),
  referenceTable(
    'water-densities',
    'Densities of waters',
    'Fresh, brackish and salt water by temperature.',
    WATER_DENSITIES,
  ),
  referenceTable(
    'corrosion-rate-constants',
    'Constants of the corrosion rate',
    'K of rate = K·W/(A·T·D) by unit of the rate.',
    CORROSION_RATE_CONSTANTS,
  ),
  referenceTable('elements', 'Elements', 'Molar masses and valences of the elements in anode alloys.', ELEMENTS),
  referenceTable(
    'seawater-scales',
    'Seawater scales',
    'Polynomials of PSS-78 and EOS-80, lowest power first.',
    SEAWATER_POLYNOMIALS,
  ),
  referenceTable(
    'causes',
    'Causes of abnormal wear',
    'How common each cause is, before anything is known of a finding.',
    CAUSE_PRIORS,
  ),
  referenceTable(
    'cause-conditions',
    'Conditions behind a cause',
    'What several observations tell of together: probabilities of its states under each cause.',
    likelihoodRows(HIDDEN_CONDITIONS),
  ),
  referenceTable(
    'cause-evidence',
    'Evidence of a cause',
    'Each observation: probabilities of its states, given the cause or the condition it depends on.',
    likelihoodRows([...SIGNS_IN_WEAR, ...SIGNS_ON_BOARD]),
  ),
  referenceTable(
    'telling-readings',
    'Faults that readings show',
    'Faults that may be read before the rate shows them, and how they bear on it.',
    TELLING_READINGS,
  ),
  referenceTable(
    'checks',
    'Checks of a finding',
    'What a yard can measure or look at, how, and what each outcome looks like.',
    checkRows(DIAGNOSIS_CHECKS),
  ),
]
