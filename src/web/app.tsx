import { QueryClientProvider } from '@tanstack/react-query'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { BrowserRouter } from 'react-router'
import { Pages } from './routes.js'
import { createQueryClient } from './shell/query-client.js'

const place = document.getElementById('app')
if (place === null) throw new Error('index.html has no #app')

createRoot(place).render(
  <StrictMode>
    <QueryClientProvider client={createQueryClient()}>
      <BrowserRouter>
        <Pages />
      </BrowserRouter>
    </QueryClientProvider>
  </StrictMode>,
)
