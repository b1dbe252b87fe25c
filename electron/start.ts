import { spawn } from 'node:child_process'
import path from 'node:path'
import { electronBinary } from './electron-binary.ts'
import { assertNodeVersion } from './node-version.ts'

/** `npm start`: the desktop host where Electron's binary is installed, else the same application in a browser window. */
assertNodeVersion()
const top = path.resolve(import.meta.dirname, '..')
const electron = electronBinary(top)
const rest = process.argv.slice(2)

if (electron && process.env.FACEGRID_HOST !== 'browser') {
  run(electron, [top, ...rest])
} else {
  process.stdout.write(
    electron
      ? 'Starting in a browser window, as FACEGRID_HOST=browser asks.\n'
      : "Electron's own binary is not installed here (npm run desktop:install fetches it), so Facegrid starts in a browser window instead.\n",
  )
  run(process.execPath, [path.join(top, 'dist/electron/browser-host.js'), ...rest])
}

function run(program: string, parameters: string[]): void {
  const child = spawn(program, parameters, { stdio: 'inherit' })
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => child.kill(signal))
  child.on('exit', (code, signal) => process.exit(signal ? 1 : (code ?? 0)))
  child.on('error', (error) => {
    process.stderr.write(`${error.message}\n`)
    process.exit(2)
  })
}
