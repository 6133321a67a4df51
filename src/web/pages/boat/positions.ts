export { type OccupiedPosition, occupiedPositions } from '../../../presentation/occupied-positions.js'
