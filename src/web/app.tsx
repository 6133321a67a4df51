import { QueryClientProvider } from '@tanstack/react-query'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { RouterProvider } from 'react-router/dom'
import { router } from './routes.js'
import { createQueryClient } from './shell/query-client.js'

const place = document.getElementById('app')
if (place === null) throw new Error('index.html has no #app')

createRoot(place).render(
  <StrictMode>
    <QueryClientProvider client={createQueryClient()}>
      <RouterProvider router={router} />
    </QueryClientProvider>
  </StrictMode>,
)

// After the page stands: sends what waits, and keeps the pages of the lift on the phone.
void import('./offline/start.js').then(({ startOffline }) => startOffline())
