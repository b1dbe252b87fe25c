import { execFileSync } from 'node:child_process'
import path from 'node:path'

/** Peak resident memory in MB of the headless host evaluating the newest certification of a file, in a process of its own. */
export function peakMemoryMb(top: string, file: string): number {
  const script = path.join(top, 'tests/bench/peak-memory-child.ts')
  return Number(execFileSync(process.execPath, [script, file], { encoding: 'utf8' }).trim().split('\n').at(-1))
}
