export { findingWord as t } from '../../wording/finding-words.js'
