import { useMutation } from '@tanstack/react-query'
import {
  type NewPlannedLifts,
  PlannedLifts,
  PlannedLiftsRemoved,
  type PlannedLiftsToRemove,
} from '../../contract/planned-lifts.js'
import { send } from './http.js'

/** Puts lifts into the calendar: all of them or none. */
export function useWritePlannedLifts() {
  return useMutation({ mutationFn: (body: NewPlannedLifts) => send(PlannedLifts, '/v1/planned-lifts', { body }) })
}

/** Takes them out again, as far as they are as they were written. */
export function useRemovePlannedLifts() {
  return useMutation({
    mutationFn: (body: PlannedLiftsToRemove) => send(PlannedLiftsRemoved, '/v1/planned-lifts/remove', { body }),
  })
}
