import { createORPCClient } from '@orpc/client'
import type { ContractRouterClient } from '@orpc/contract'
import { createTanstackQueryUtils } from '@orpc/tanstack-query'
import { QueryClient } from '@tanstack/react-query'
import type { Contract } from '#core/api/contract.ts'
import { openChannel } from './channels.ts'
import { createConnection } from './connection.ts'
import { failureOf } from './failure.ts'

export const connection = createConnection(openChannel)

/** The engine, as the contract describes it. Throws what {@link failureOf} understands. */
export const api: ContractRouterClient<Contract> = createORPCClient(connection)

/** Query options and keys for TanStack Query: `useQuery(orpc.runs.get.queryOptions({ input: { runId } }))`. */
export const orpc = createTanstackQueryUtils(api)

/** Data stays fresh until the change stream says otherwise (renderer/app/changes.ts). */
export const queryClient = new QueryClient({
  defaultOptions: {
    queries: {
      staleTime: Number.POSITIVE_INFINITY,
      gcTime: 10 * 60_000,
      retry: (count, error) => count < 1 && failureOf(error).kind === 'internal',
      refetchOnWindowFocus: false,
      networkMode: 'always',
    },
    mutations: { networkMode: 'always', retry: false },
  },
})
