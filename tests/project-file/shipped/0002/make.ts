import { createHash } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { facegrid } from '#tests/services/command-line.ts'
import { figuresOf } from '../figures.ts'

/*
 * Made the shipped file of schema step 2, once: the room at 1600 m that tests/reference works by hand, with its grid, hoods, traverse and
 * conditions, out of its exchange file. It is not made again.
 */
const [target] = process.argv.slice(2)
if (target === undefined) throw new Error('Usage: node make.ts OUT.facegrid')
const file = path.resolve(target)
const folder = path.dirname(file)
const exchange = path.join(import.meta.dirname, '../../../reference/room-in-full.exchange.json')
const made = await facegrid(folder, 'import', exchange, file)
if (made.status !== 0) throw new Error(made.error)
const { out } = await facegrid(folder, 'evaluate', file, '--all', '--json')
const sha256 = createHash('sha256').update(readFileSync(file)).digest('hex')
writeFileSync(path.join(folder, 'expected.json'), JSON.stringify({ sha256, step: 2, figures: figuresOf(JSON.parse(out)) }))
