import { useQuery } from '@tanstack/react-query'
import { RecordQuestionsView } from '../../contract/record-questions.js'
import { read } from './http.js'

export type RecordQuestion = RecordQuestionsView['items'][number]

/** What on a boat's record cannot be, or cannot be together. */
export function useRecordQuestions(boat: string) {
  return useQuery({
    queryKey: ['record-questions', boat],
    queryFn: async ({ signal }) => {
      const path = `/v1/boats/${encodeURIComponent(boat)}/questions`
      return (await read(RecordQuestionsView, path, signal)).items
    },
  })
}
