import { useMutation, useQueryClient } from '@tanstack/react-query'
import { PersonData, PersonForgotten } from '../../contract/people.js'
import { send } from './http.js'

/** Asked by POST, so that the address stands in no log; nothing is changed by it. */
export function useLookUpPerson() {
  return useMutation({
    mutationFn: (email: string) => send(PersonData, '/v1/people/data', { body: { email } }),
  })
}

/** Whatever was read may name the person: all of it is read again. */
export function useForgetPerson() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (body: { email: string; confirm: string }) => send(PersonForgotten, '/v1/people/forget', { body }),
    onSuccess: () => queries.invalidateQueries(),
  })
}
