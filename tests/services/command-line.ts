import path from 'node:path'
import { v7 } from 'uuid'
import { runCommandLine, type StartEngine } from '#electron/command-line/run.ts'
import { createEngine } from '#electron/engine.ts'

const start: StartEngine = (options) =>
  createEngine({ ...options, version: '0.0.0-test', clock: () => Date.parse('2026-03-05T10:00:00.000Z'), uuid: () => v7() })

/** Runs the command line in this process and answers what it printed and its exit status. */
export async function facegrid(folder: string, ...args: string[]): Promise<{ status: number; out: string; error: string }> {
  let out = ''
  let error = ''
  const inFolder = args.map((arg) => (/\.(facegrid|json)$/.test(arg) ? path.resolve(folder, arg) : arg))
  const streams = {
    out: (text: string) => {
      out += text
    },
    error: (text: string) => {
      error += text
    },
  }
  return { status: await runCommandLine(inFolder, streams, start), out, error }
}
