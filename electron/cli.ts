import { runCommandLine } from './command-line/run.ts'
import { createHostEngine } from './engine-start.ts'

// Whoever reads only the first lines closes the pipe: that is no failure of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => process.exit(error.code === 'EPIPE' ? 0 : 2))

process.exitCode = await runCommandLine(
  process.argv.slice(2),
  { out: (text) => process.stdout.write(text), error: (text) => process.stderr.write(text) },
  createHostEngine,
)
