import { ORPCError } from '@orpc/client'
import { MutationCache, QueryClient } from '@tanstack/react-query'

/**
 * The client of all questions. Answers are fresh for 15 seconds; every change makes all of them stale, because one booking moves several trays. A refusal is an
 * answer and is not asked again; a lost connection is, once.
 */
export function createQuestions(): QueryClient {
  const client: QueryClient = new QueryClient({
    defaultOptions: {
      queries: {
        staleTime: 15_000,
        refetchOnWindowFocus: true,
        retry: (count, error) => count < 1 && !(error instanceof ORPCError),
      },
      mutations: { retry: false },
    },
    mutationCache: new MutationCache({ onSuccess: () => void client.invalidateQueries() }),
  })
  return client
}
