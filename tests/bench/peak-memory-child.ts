import path from 'node:path'
import { createRouterClient } from '@orpc/server'
import { benchEngine } from './large-project.ts'

/** Evaluates the newest certification of the file named and prints this process's peak resident memory in MB. */
const file = process.argv[2]
if (!file) throw new Error('peak-memory-child.ts needs a file')
const engine = benchEngine(path.dirname(file))
const api = createRouterClient(engine.router)
await api.files.open({ path: file })
const overview = await api.evaluation.overview({ certificationId: null })
if (!overview.certificationId) throw new Error('There is no certification in the file.')
await api.evaluation.certification({ certificationId: overview.certificationId })
await engine.close()
process.stdout.write(`${(process.resourceUsage().maxRSS / 1024).toFixed(1)}\n`)
