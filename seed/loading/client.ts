/** The demo fills itself through the service's own doors, as any program would. */
export class ServiceClient {
  readonly #address: string
  readonly #headers: Record<string, string>

  constructor(address: string, key: string) {
    this.#address = address
    this.#headers = { authorization: `Bearer ${key}` }
  }

  async isEmpty(): Promise<boolean> {
    const { items } = await this.get<{ items: unknown[] }>('/v1/boats?limit=1')
    return items.length === 0
  }

  get<Answer>(path: string): Promise<Answer> {
    return this.#send(path, { headers: this.#headers })
  }

  post<Answer>(path: string, body: FormData | object): Promise<Answer> {
    if (body instanceof FormData) return this.#send(path, { method: 'POST', headers: this.#headers, body })
    const headers = { ...this.#headers, 'content-type': 'application/json' }
    return this.#send(path, { method: 'POST', headers, body: JSON.stringify(body) })
  }

  patch<Answer>(path: string, body: object): Promise<Answer> {
    const headers = { ...this.#headers, 'content-type': 'application/json' }
    return this.#send(path, { method: 'PATCH', headers, body: JSON.stringify(body) })
  }

  /** @param version of what it replaces; 0 where there is nothing yet */
  put<Answer>(path: string, version: number, body: object): Promise<Answer> {
    const headers = { ...this.#headers, 'content-type': 'application/json', 'if-match': `"${version}"` }
    return this.#send(path, { method: 'PUT', headers, body: JSON.stringify(body) })
  }

  async #send<Answer>(path: string, request: RequestInit): Promise<Answer> {
    const answer = await fetch(new URL(path, this.#address), request)
    if (!answer.ok) throw new Error(`${path} answered ${answer.status}: ${await answer.text()}`)
    return (await answer.json()) as Answer
  }
}
