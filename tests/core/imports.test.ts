import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findHead, sameHead, unitInHead, whereHeadStands } from '#core/imports/head.ts'
import { provenDecimal, readImported } from '#core/imports/numbers.ts'
import { proposeMapping } from '#core/imports/propose.ts'
import { fittingFormats, proposedFormat, TimeReader } from '#core/imports/times.ts'
import type { Unit } from '#core/model/values.ts'

const si = (cell: string, decimal: 'point' | 'comma' | null, unit: Unit = 'm/s') => {
  const read = readImported(cell, decimal, unit)
  return read.ok ? read.value.si : read.problem.code
}

describe('numbers of a file', () => {
  test('mean one thing once the decimal sign is stated', () => {
    expect(si('1,234', 'comma', 'm3/s')).toBe(1.234)
    expect(si('1,234', 'point', 'm3/s')).toBe(1234)
    expect(si('1.234,5', 'comma', 'm3/s')).toBe(1234.5)
    expect(si('1,234.5', 'point', 'm3/s')).toBe(1234.5)
    expect(si('-0,2', 'comma')).toBe(-0.2)
    expect(si('4,5e-1', 'comma')).toBeCloseTo(0.45, 15)
    // 1 ft/min is 0.00508 m/s exactly (1 ft = 0.3048 m).
    expect(si('92,5 fpm', 'comma')).toBeCloseTo(92.5 * 0.00508, 15)
    expect(si('1.250 L/s', 'point', 'm3/s')).toBeCloseTo(0.00125, 15)
  })

  test('may part their thousands by a gap beside the stated sign', () => {
    expect(si('1 234,5', 'comma', 'm3/s')).toBe(1234.5)
    expect(si('1\u202f234,5 m3/s', 'comma', 'm3/s')).toBe(1234.5)
    expect(si("1'234.5", 'point', 'm3/s')).toBe(1234.5)
    expect(si('-1 234', 'comma', 'm3/s')).toBe(-1234)
    expect(si('30 1/h', 'comma', '1/h')).toBe(30)
  })

  test('that use the other sign, or can be read in two ways, are refused', () => {
    expect(si('0.45', 'comma')).toBe('import.other_decimal')
    expect(si('0,45', 'point')).toBe('import.other_decimal')
    expect(si('0.45 m/s', 'comma')).toBe('import.other_decimal')
    expect(si('1 234.5', 'comma', 'm3/h')).toBe('import.other_decimal')
    expect(si("1'234.5 m3/h", 'comma', 'm3/h')).toBe('import.other_decimal')
    expect(si('1 234,5', 'point', 'm3/h')).toBe('import.other_decimal')
    expect(si('12 345.678,9', 'comma', 'm3/h')).toBe('import.other_decimal')
    expect(si('1,234', null, 'm3/h')).toBe('units.ambiguous')
    expect(si('--', 'comma')).toBe('units.not_a_number')
    expect(si('0,45 m3/h', 'comma')).toBe('units.other_dimension')
  })

  test('any number written with either sign comes back as it was', () => {
    fc.assert(
      fc.property(fc.double({ min: -500, max: 500, noNaN: true }), fc.integer({ min: 0, max: 6 }), (value, digits) => {
        const text = value.toFixed(digits)
        expect(si(text, 'point')).toBeCloseTo(Number(text), 12)
        expect(si(text.replace('.', ','), 'comma')).toBeCloseTo(Number(text), 12)
        expect(si(`${text} m/s`, 'point')).toBeCloseTo(Number(text), 12)
        expect(si(`${text.replace('.', ',')} m/s`, 'comma')).toBeCloseTo(Number(text), 12)
      }),
    )
  })

  test('no text throws, and what is accepted is finite', () => {
    fc.assert(
      fc.property(fc.string(), fc.constantFrom('point', 'comma', null), (text, decimal) => {
        const read = readImported(text, decimal, 'm/s')
        if (read.ok) expect(Number.isFinite(read.value.si)).toBe(true)
      }),
    )
  })

  test('prove their decimal sign, or leave it open', () => {
    expect(provenDecimal(['1,234', '0,45'])).toBe('comma')
    expect(provenDecimal(['1.234', '12'])).toBe(null)
    expect(provenDecimal(['1,234.5'])).toBe('point')
    expect(provenDecimal(['1.234.567'])).toBe('comma')
    expect(provenDecimal(['0.45', '0,45'])).toBe(null)
  })
})

describe('the head of a file', () => {
  const rows = [['Logger 7'], ['Site', 'A'], [''], ['Tag', 'Point', 'Velocity [m/s]'], ['T-1', '1', '0.45'], ['T-1', '2', '0.46']]

  test('is found wherever it stands, and known again', () => {
    expect(findHead(rows)).toBe(4)
    expect(findHead(rows.slice(4))).toBe(null)
    // A blank line among the readings ends nothing, and a reading with a remark is no head.
    const data = (remark: string) => ['T-1', '0.20', '2', remark]
    const parted = [['Terminal', 'Velocity', 'Point', 'Remark'], data(''), data('behind the lamp'), [''], data(''), data(''), data('')]
    expect(findHead(parted)).toBe(1)
    // Of two tables in one file, the head of the longer one.
    expect(findHead([...parted.slice(0, 3), ['Terminal', 'Flow', 'Point', 'Remark'], ...parted.slice(4)])).toBe(4)
    expect(whereHeadStands([['x'], ...rows], ['tag', 'point', ' VELOCITY  [M/S] '])).toBe(5)
    expect(sameHead(['Tag', 'Point', ''], ['tag ', 'POINT'])).toBe(true)
    expect(sameHead(['Tag', 'Point'], ['Tag', 'Sample'])).toBe(false)
  })

  test('says units in brackets or as its last word', () => {
    expect(unitInHead('Velocity [m/s]')?.unit).toBe('m/s')
    expect(unitInHead('Air flow (m³/h)')?.unit).toBe('m3/h')
    expect(unitInHead('velocity_fpm')?.unit).toBe('ft/min')
    expect(unitInHead('Static [kPa]')).toMatchObject({ unit: 'kPa', text: 'kPa' })
    expect(unitInHead('Point in')).toBe(null)
    expect(unitInHead('Pa')).toBe(null)
  })

  test('proposes how the file is read', () => {
    expect(proposeMapping(rows, ';', 'a')).toMatchObject({
      headerRow: 4,
      header: ['tag', 'point', 'velocity [m/s]'],
      decimal: 'point',
      unit: 'm/s',
      columns: { terminal: 1, point: 2, value: 3, time: null },
    })
    const logger = [
      ['02.03.2026 08:15:00', '0,45'],
      ['02.03.2026 08:15:05', '0,46'],
    ]
    expect(proposeMapping(logger, ';', 'b')).toMatchObject({
      headerRow: null,
      decimal: 'comma',
      columns: { time: 1, value: 2, terminal: null, point: null },
      timeFormat: 'dd.MM.yyyy HH:mm:ss',
    })
  })

  test('no rows make the proposal fail', () => {
    fc.assert(
      fc.property(fc.array(fc.array(fc.string(), { minLength: 1, maxLength: 6 }), { maxLength: 20 }), (cells) => {
        const { columns, headerRow } = proposeMapping(cells, ',', 'x')
        expect(columns.value).toBeGreaterThan(0)
        expect(headerRow === null || (headerRow >= 1 && headerRow <= cells.length)).toBe(true)
      }),
    )
  })
})

describe('times of a file', () => {
  test('are read in the zone of the site, across the change of its clocks', () => {
    const vienna = new TimeReader('dd.MM.yyyy HH:mm:ss', 'Europe/Vienna')
    // Central European Time is an hour ahead of UTC, summer time two; it begins on 29 March 2026 at 01:00 UTC (EU directive 2000/84/EC).
    expect(vienna.read('28.03.2026 08:15:07')).toBe(Date.UTC(2026, 2, 28, 7, 15, 7))
    expect(vienna.read('29.03.2026 08:15:59')).toBe(Date.UTC(2026, 2, 29, 6, 15, 59))
    expect(vienna.read('31.02.2026 08:15:00')).toBe(null)
    expect(vienna.read('28.03.2026 08:15:60')).toBe(null)
    const iso = new TimeReader('', 'Europe/Vienna')
    expect(iso.read('2026-03-28T08:15:07.25')).toBe(Date.UTC(2026, 2, 28, 7, 15, 7, 250))
    expect(iso.read('2026-03-28 08:15:07')).toBe(Date.UTC(2026, 2, 28, 7, 15, 7))
    expect(iso.read('2026-03-28T08:15:07Z')).toBe(Date.UTC(2026, 2, 28, 8, 15, 7))
  })

  test('the memory for minutes changes nothing: each time is what the platform says', () => {
    const reader = new TimeReader('dd.MM.yyyy HH:mm:ss', 'UTC')
    fc.assert(
      fc.property(fc.date({ min: new Date('2000-01-01'), max: new Date('2040-01-01'), noInvalidDate: true }), (date) => {
        const iso = date.toISOString()
        const text = `${iso.slice(8, 10)}.${iso.slice(5, 7)}.${iso.slice(0, 4)} ${iso.slice(11, 19)}`
        expect(reader.read(text)).toBe(Math.floor(date.getTime() / 1000) * 1000)
      }),
    )
  })

  test('that leave day and month open have more than one format', () => {
    expect(fittingFormats(['03/02/2026 08:00:00'])).toEqual(['dd/MM/yyyy HH:mm:ss', 'MM/dd/yyyy HH:mm:ss'])
    expect(fittingFormats(['13/02/2026 08:00:00'])).toEqual(['dd/MM/yyyy HH:mm:ss'])
    expect(fittingFormats(['soon'])).toEqual([])
  })

  test('propose a format only where no other one reads another day', () => {
    // The third of February or the second of March: nobody can tell until a day above 12 comes, or both are the same number.
    expect(proposedFormat(['03/02/2026 08:00:00'])).toBeNull()
    expect(proposedFormat(['3/2/2026 8:00 AM'])).toBeNull()
    expect(proposedFormat(['03-02-2026 08:00:00'])).toBeNull()
    expect(proposedFormat(['03/02/2026 08:00:00', '13/02/2026 08:00:00'])).toBe('dd/MM/yyyy HH:mm:ss')
    expect(proposedFormat(['03/02/2026 08:00:00', '03/15/2026 08:00:00'])).toBe('MM/dd/yyyy HH:mm:ss')
    expect(proposedFormat(['03/03/2026 08:00:00'])).toBe('dd/MM/yyyy HH:mm:ss')
    // With dots the day comes first (common practice).
    expect(proposedFormat(['03.02.2026 08:00:00'])).toBe('dd.MM.yyyy HH:mm:ss')
    expect(proposedFormat(['2026-03-02T08:00:00'])).toBe('')
    expect(proposedFormat([])).toBe('')
  })
})
