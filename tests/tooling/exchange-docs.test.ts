import { readFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { ShortExchange } from '#core/model/exchange.ts'

const TOP = path.resolve(import.meta.dirname, '../..')
const read = (file: string) => readFileSync(path.join(TOP, file), 'utf8')

test('the exchange example that DEVELOPERS.md prints is the file that is tested, whole and of the form it describes', () => {
  const printed = [...read('DEVELOPERS.md').matchAll(/^```json\n([\s\S]*?)^```$/gm)].map(([, block = '']) => JSON.parse(block))
  expect(printed).toEqual([JSON.parse(read('tests/reference/one-filter.exchange.json'))])
  expect(ShortExchange.safeParse(printed[0]).success).toBe(true)
})

test('files that the section names are there', () => {
  const section = read('DEVELOPERS.md').split('### The exchange form')[1]?.split('\n### ')[0] ?? ''
  const named = [...section.matchAll(/`((?:core|tests)\/[\w./-]+)`/g)].map(([, file = '']) => file)
  expect(named.length).toBeGreaterThan(3)
  for (const file of named) expect(() => read(file), file).not.toThrow()
})
