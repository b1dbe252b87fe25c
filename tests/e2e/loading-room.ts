import { execFileSync } from 'node:child_process'
import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from '@playwright/test'
import type { ShortExchange } from '#core/model/exchange.ts'
import { test as base, expect, type RunningApplication } from './application.ts'
import { words } from './english.ts'
import { expectEmptyAtHand } from './face.ts'
import { button } from './form-parts.ts'
import { goTo, openFromChooser } from './home.ts'

const TOP = path.resolve(import.meta.dirname, '../..')
const FILE = 'loading-room.facegrid'
export const TECHNICIAN = 'Tove Rinkmar'
const POINTS = 9

export { expect }

/**
 * A project of one unidirectional room, F-104, with three filters of 0.9 m x 0.9 m in a row (nine points each, 0.8 m2 open). Last year
 * every point read 0.47 m/s. This year's run is open and empty; its limits are 20 % either way of 0.45 m/s: 0.36 to 0.54 m/s. The anemometer shows
 * standard air, dry, of 20 degC and 101.325 kPa; the limits hold for what it shows.
 */
export const test = base.extend<{ bench: RunningApplication }, { roomFile: string }>({
  roomFile: [
    async ({ browserName: _ }, use) => {
      const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-room-'))
      const [exchange, file] = [path.join(folder, 'room.json'), path.join(folder, FILE)]
      writeFileSync(exchange, JSON.stringify(loadingRoom()))
      execFileSync(path.join(TOP, 'node_modules/.bin/node'), [path.join(TOP, 'dist/electron/cli.js'), 'import', exchange, file], {
        stdio: 'pipe',
      })
      await use(file)
      rmSync(folder, { recursive: true, force: true })
    },
    { scope: 'worker', timeout: 60_000 },
  ],
  bench: async ({ application, roomFile }, use) => {
    copyFileSync(roomFile, path.join(application.folder, FILE))
    const { page } = application
    await openFromChooser(page, FILE)
    await pickTechnician(page)
    await goTo(page, words('app.nav.certification', {}))
    await page.getByRole('link', { name: new RegExp(`^${words('certifications.run.measure', {})}`) }).click()
    await startMeasuring(page)
    await use(application)
  },
})

/** Picks who works, where the program asks for it. */
export async function pickTechnician(page: Page): Promise<void> {
  const dialog = page.getByRole('dialog', { name: words('app.person.pick', {}) })
  await dialog.getByRole('button', { name: TECHNICIAN }).click()
  await expect(dialog).toBeHidden()
}

async function startMeasuring(page: Page): Promise<void> {
  const start = button(page, words('readings.before.start', {}))
  await page.getByRole('radio', { name: /^Anemometer R1/ }).press('Space')
  await page.getByRole('checkbox', { name: words('readings.before.read_all', { name: TECHNICIAN }) }).press('Space')
  await start.press('Enter')
  await expectEmptyAtHand(page, 1)
}

const id = (number: number) => `01930000-0000-7000-8000-${String(number).padStart(12, '0')}`
const day = (daysFromToday: number) => new Date(Date.now() + daysFromToday * 86_400_000).toISOString().slice(0, 10)

/** Dates count from today, so that the calibration holds on the day the spec runs. */
function loadingRoom(): unknown {
  const filters = [1, 2, 3].map((number) => ({
    kind: 'terminal',
    id: id(20 + number),
    parentId: id(10),
    body: {
      tag: `F-104/0${number}`,
      kind: 'fan_filter_unit',
      x: number,
      y: 1.5,
      grossWidth: { typed: '0.9', unit: 'm' },
      grossDepth: { typed: '0.9', unit: 'm' },
      effectiveArea: { typed: '0.8', unit: 'm2' },
      designVelocity: { typed: '0.45', unit: 'm/s' },
    },
  }))
  const criterion = {
    key: 'filter_mean',
    title: 'Mean velocity of each filter',
    quantity: 'face_velocity',
    scope: 'filter',
    plane: 'any',
    on: true,
    alert: null,
    form: { kind: 'within_percent_of_design', percent: 20 },
    source: 'common practice',
  }
  const visit = (number: number, name: string, startsOn: string, previousId: string | null, finished: boolean) => ({
    kind: 'certification',
    id: id(number),
    body: { name, startsOn, endsOn: startsOn, purpose: 'periodic', personIds: [id(2)], roomIds: [id(10)], previousId, finished },
  })
  const run = (number: number, certificationId: string, at: string) => ({
    id: id(number),
    certificationId,
    roomId: id(10),
    phase: 'as_found',
    plane: { kind: 'filter_face', distanceM: 0.15 },
    occupancyState: 'at_rest',
    unit: 'm/s',
    averagingTimeS: 10,
    at,
    instrumentId: id(3),
    personId: id(2),
  })
  const lastYear = ['F-104/01', 'F-104/02', 'F-104/03'].flatMap((terminal) =>
    Array.from({ length: POINTS }, (_, index) => ({ terminal, point: index + 1, typed: '0.47' })),
  )
  const exchange: Pick<ShortExchange, 'format' | 'formatVersion' | 'form'> & { entities: unknown[]; runs: unknown[] } = {
    format: 'facegrid exchange',
    formatVersion: 1,
    form: 'short',
    entities: [
      { kind: 'project', id: id(1), body: { name: 'Loading room', timeZone: 'Europe/Vienna' } },
      { kind: 'person', id: id(2), body: { name: TECHNICIAN } },
      {
        kind: 'instrument',
        id: id(3),
        body: {
          name: 'Anemometer R1',
          serialNumber: 'INV-0002',
          sensing: 'directional',
          averagingTimeS: 10,
          basis: 'standard',
          standardCondition: { temperature: { typed: '20', unit: 'degC' }, pressure: { typed: '101.325', unit: 'kPa' } },
          senses: [
            {
              quantity: 'velocity',
              low: { typed: '0.05', unit: 'm/s' },
              high: { typed: '30', unit: 'm/s' },
              resolution: { typed: '0.01', unit: 'm/s' },
              accuracy: null,
            },
          ],
        },
      },
      ...[day(-400), day(-40)].map((calibratedOn, index) => ({
        kind: 'calibration',
        id: id(4 + index),
        parentId: id(3),
        body: { certificateNumber: `C-${index + 1}`, calibratedOn, dueOn: index === 0 ? day(-35) : day(325) },
      })),
      { kind: 'criteria_set', id: id(7), body: { name: 'Unidirectional air', criteria: [criterion] } },
      { kind: 'facility', id: id(9), body: { name: 'Filling' } },
      {
        kind: 'room',
        id: id(10),
        parentId: id(9),
        body: {
          number: 'F-104',
          name: 'Freeze-dryer loading',
          shape: { kind: 'rectangle', x: 0, y: 0, width: 4, depth: 3 },
          ceilingHeight: { typed: '2.7', unit: 'm' },
          cleanlinessClass: 'ISO 5',
          occupancyState: 'at_rest',
          airflowType: 'unidirectional',
          designVelocity: { typed: '0.45', unit: 'm/s' },
          criteriaSetId: id(7),
        },
      },
      ...filters,
      visit(30, 'Last year', day(-365), null, true),
      visit(31, 'This year', day(0), id(30), false),
    ],
    runs: [
      { ...run(40, id(30), `${day(-365)}T09:00:00.000Z`), readings: lastYear },
      { ...run(41, id(31), `${day(0)}T06:00:00.000Z`), readings: [], complete: false },
    ],
  }
  return exchange
}
