import { mkdtempSync, readdirSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { expect, test } from 'vitest'
import { facegrid } from './command-line.ts'

const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-command-line-'))
const at = (name: string) => path.join(folder, name)
const FOUND = ['--name', 'Site', '--person', 'Ines']

test('a project made without its ending gets it, and nothing is made of an option', async () => {
  expect(await facegrid(folder, 'new', at('plain'), ...FOUND)).toMatchObject({ status: 0, out: `Made ${at('plain.facegrid')}\n` })
  expect((await facegrid(folder, 'demo', '--help')).status).toBe(0)
  expect(readdirSync(folder)).toEqual(['plain.facegrid'])
})

test('a file too many, an unknown command and a missing file are refused with status 2', async () => {
  const made = await facegrid(folder, 'new', at('other.facegrid'), 'site', ...FOUND)
  expect(made).toMatchObject({ status: 2, error: expect.stringContaining('"site"') })
  for (const args of [['evaluate', at('plain.facegrid'), at('more')], ['evaluat', at('plain.facegrid')], ['evaluate'], ['check']])
    expect((await facegrid(folder, ...args)).status, args.join(' ')).toBe(2)
  expect(readdirSync(folder)).toEqual(['plain.facegrid'])
})

test('a project without a certification is not tested: status 3', async () => {
  expect((await facegrid(folder, 'evaluate', at('plain.facegrid'))).status).toBe(3)
})
