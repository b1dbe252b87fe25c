import { v7 } from 'uuid'
import { buildDemo } from '../demo-data/build.ts'
import packageJson from '../package.json' with { type: 'json' }
import { createEngine, type Engine, type EngineOptions, type FileAccess } from './engine.ts'

export function facegridVersion(): string {
  return packageJson.version
}

/** The engine with the real clock, real identities and the demo: what every host starts. Tests hand in their own instead. */
export function createHostEngine(options: { host: EngineOptions['host']; access: FileAccess; settingsFolder: string }): Engine {
  return createEngine({
    ...options,
    version: facegridVersion(),
    clock: () => Date.now(),
    uuid: () => v7(),
    demo: buildDemo,
  })
}
