import { defineConfig } from 'vite'

/**
 * The hosts as plain files in dist/electron. Only the database's native module and Electron itself stay outside, so the application
 * that ships is this bundle, and so is what the end-to-end specs run. The preload runs in a sandbox and must be one CommonJS file:
 * `--mode preload` builds that one.
 */
const PRELOAD: Record<string, string> = { preload: 'electron/preload.ts' }
const HOSTS: Record<string, string> = {
  main: 'electron/main.ts',
  'engine-process': 'electron/engine-process.ts',
  'browser-host': 'electron/browser-host.ts',
  cli: 'electron/cli.ts',
  'job-worker': 'electron/services/job-worker.ts',
}

export default defineConfig(({ mode }) => {
  const preload = mode === 'preload'
  return {
    ssr: { noExternal: true, external: ['better-sqlite3', 'electron'] },
    build: {
      ssr: true,
      outDir: 'dist/electron',
      emptyOutDir: !preload,
      target: 'node22',
      minify: false,
      rolldownOptions: {
        input: preload ? PRELOAD : HOSTS,
        output: preload
          ? { format: 'cjs' as const, entryFileNames: '[name].cjs' }
          : { format: 'es' as const, entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' },
      },
    },
  }
})
