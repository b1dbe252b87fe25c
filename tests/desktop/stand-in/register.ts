import { registerHooks } from 'node:module'

/** Hands the stand-in to whoever imports `electron`, in ES modules and in CommonJS alike. */
registerHooks({
  resolve: (specifier, context, next) =>
    specifier === 'electron'
      ? { url: new URL('electron.ts', import.meta.url).href, format: 'module-typescript', shortCircuit: true }
      : next(specifier, context),
})
