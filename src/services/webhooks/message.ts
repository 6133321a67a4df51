/** What is sent of an event. */
export interface MessageOf {
  readonly eventId: string
  readonly event: string
  readonly occurredAt: string
  readonly data: unknown
}

/** The body of a message: the same text in every attempt, since it is what is signed. */
export function messageBody({ eventId, event, occurredAt, data }: MessageOf): string {
  return JSON.stringify({ id: eventId, type: event, timestamp: new Date(occurredAt).toISOString(), data })
}
