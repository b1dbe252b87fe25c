import { runCommandLine } from './command-line/run.ts'
import { createHostEngine } from './engine-start.ts'

// Whoever reads only the first lines closes the pipe. That is no failure, and no verdict either: the command goes on to its own status.
let heard = true
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') process.exit(2)
  heard = false
})
process.stderr.on('error', () => undefined)

process.exitCode = await runCommandLine(
  process.argv.slice(2),
  {
    out: (text) => {
      if (heard) process.stdout.write(text)
    },
    error: (text) => process.stderr.write(text),
  },
  createHostEngine,
)
