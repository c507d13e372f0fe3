import { QueryClientProvider } from '@tanstack/react-query'
import { RouterProvider } from '@tanstack/react-router'
import { useState } from 'react'
import { createQuestions } from './questions.ts'
import { createPlaces } from './routes.tsx'

/** The whole window. */
export function Penstock() {
  const [questions] = useState(createQuestions)
  const [places] = useState(createPlaces)
  return (
    <QueryClientProvider client={questions}>
      <RouterProvider router={places} />
    </QueryClientProvider>
  )
}
