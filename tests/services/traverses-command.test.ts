import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { expect, test } from 'vitest'
import { facegrid } from './command-line.ts'

/*
 * The room that tests/reference works by hand has an exhaust duct of 300 mm x 250 mm, traversed by log-Tchebycheff with five lines of five points.
 * The rule's places for five points, as shares of the side: 0.074, 0.288, 0.500, 0.712, 0.926 (published table, as in
 * tests/reference/traverse-positions.test.ts). Times 250 mm: 18.5, 72, 125, 178, 231.5 mm; times 300 mm: 22.2, 86.4, 150, 213.6, 277.8 mm.
 */
const SHARES = [0.074, 0.288, 0.5, 0.712, 0.926]

test('the command line prints how deep the probe goes in at every point of a duct, and where its lines stand', async () => {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-traverses-'))
  try {
    copyFileSync(path.join(import.meta.dirname, '../project-file/shipped/0002/site.facegrid'), path.join(folder, 'site.facegrid'))
    const { status, out } = await facegrid(folder, 'traverses', 'site.facegrid')
    expect(status).toBe(0)
    const plain = out.replaceAll('\u00a0', ' ').split('\n')
    expect(plain[1]).toBe('  line 22.2 mm from the left inner wall: 18.5 mm, 72.0 mm, 125.0 mm, 178.0 mm, 231.5 mm')
    expect(plain.filter((line) => line.includes('from the left inner wall')).map((line) => line.slice(7, 15).trim())).toEqual([
      '22.2 mm',
      '86.4 mm',
      '150.0 mm',
      '213.6 mm',
      '277.8 mm',
    ])
    const [duct] = JSON.parse((await facegrid(folder, 'traverses', 'site.facegrid', '--json')).out)
    expect(duct).toMatchObject({ terminal: 'H-1/X1', rule: 'log_tchebycheff', areaM2: 0.075 })
    for (const [index, share] of SHARES.entries()) {
      expect(duct.insertionsM[index]).toBeCloseTo(0.25 * share, 12)
      expect(duct.linesFromLeftM[index]).toBeCloseTo(0.3 * share, 12)
    }
    expect(duct.points).toHaveLength(25)
    expect((await facegrid(folder, 'traverses', 'site.facegrid', '--room', 'none')).out).toContain('No duct section')
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
