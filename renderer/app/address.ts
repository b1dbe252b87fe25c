import { useSyncExternalStore } from 'react'
import type { BaseLocationHook, BaseSearchHook } from 'wouter'

/** `#/room/1?select=2` means the place `/room/1` and the search `select=2`; both belong to the page, not to the host's address. */
export function splitHash(hash: string): { place: string; search: string } {
  const [place = '', search = ''] = hash.replace(/^#?\/?/, '').split('?')
  return { place: `/${place}`, search }
}

function subscribe(listener: () => void): () => void {
  window.addEventListener('hashchange', listener)
  window.addEventListener('popstate', listener)
  return () => {
    window.removeEventListener('hashchange', listener)
    window.removeEventListener('popstate', listener)
  }
}

function navigate(to: string, { replace = false, state = null }: { replace?: boolean; state?: unknown } = {}): void {
  const address = `${window.location.search}#/${to.replace(/^#?\/?/, '')}`
  if (replace) history.replaceState(state, '', address)
  else history.pushState(state, '', address)
  // pushState is silent; everyone who looks at the address is told the same way as when a person edits it.
  window.dispatchEvent(new Event('hashchange'))
}

const usePlace: BaseLocationHook = () => [useSyncExternalStore(subscribe, () => splitHash(window.location.hash).place), navigate]

const useAddressSearch: BaseSearchHook = () => useSyncExternalStore(subscribe, () => splitHash(window.location.hash).search)

/** Location hook for wouter's Router: everything after the hash sign, its search included (`useSearchParams` of wouter works). */
export const useAddress: BaseLocationHook & { searchHook: BaseSearchHook; hrefs: (href: string) => string } = Object.assign(usePlace, {
  searchHook: useAddressSearch,
  hrefs: (href: string) => `#${href}`,
})
