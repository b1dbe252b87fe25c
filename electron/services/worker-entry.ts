import { existsSync } from 'node:fs'

/** The worker's entry: the source file beside this one, or the file beside (or above) the bundle that this module ended up in. */
export function workerEntry(): URL {
  const places = ['./job-worker.ts', './job-worker.js', '../job-worker.js'].map((place) => new URL(place, import.meta.url))
  const found = places.find((place) => existsSync(place))
  if (!found) throw new Error('the worker of long jobs is not part of this installation')
  return found
}
