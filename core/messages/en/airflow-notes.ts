import type { Formatter } from '#core/units/formatter.ts'
import { ended } from '../words.ts'

type None = Record<string, never>
type Pressures = { pressurePa: number; expectedPa: number }

function several(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`
}

function hPa(pressurePa: number, f: Formatter): string {
  return f.quantity(pressurePa, 'pressure', { unit: 'hPa' })
}

/** What is to be said about the air of a run, and about the ways in which terminals were measured. */
export const airflowNotes = {
  'air.humidity_assumed': (p: { percent: number }) =>
    `Humidity was not measured: ${p.percent} % is taken, and its doubt goes into the uncertainty.`,
  'air.outside_stated_range': (_p: None) =>
    'The air lies outside the range that the density formula is stated for (15 to 27 °C, 600 to 1100 hPa); it is computed all the same.',
  'air.pressure_from_altitude': (p: { altitudeM: number; pressurePa: number }, f: Formatter) =>
    `Pressure was not measured: ${hPa(p.pressurePa, f)} is taken, the standard atmosphere at ${f.quantity(p.altitudeM, 'length')}.`,
  'air.pressure_questioned': (p: Pressures, f: Formatter) =>
    `The pressure of ${hPa(p.pressurePa, f)} is far from the ${hPa(p.expectedPa, f)} of the site's altitude. Check it: the absolute pressure at the site is asked for.`,
  'air.pressure_of_sea_level': (p: Pressures, f: Formatter) =>
    `The pressure of ${hPa(p.pressurePa, f)} looks like the sea-level pressure of a weather report; at the site's altitude about ${hPa(p.expectedPa, f)} is expected. Enter the absolute pressure at the site.`,
  'note.carried_because': (p: { because: string }) => `Carried from as found: ${ended(p.because)}`,
  'note.points_corrected': (p: { readings: number; beyond: number }) =>
    `${several(p.readings, 'reading is', 'readings are')} corrected by the points of the calibration certificate${p.beyond > 0 ? `; ${p.beyond} beyond the points, with the correction of the nearest` : ''}.`,
  'note.hood_factor': (p: { factor: number; because: string }, f: Formatter) =>
    `The hood's readings are multiplied by ${f.significant(p.factor, 4)}: ${ended(p.because)}`,
  'note.outside_hood_factors': (p: { readings: number }) =>
    `${several(p.readings, 'reading lies', 'readings lie')} outside every range of flow that the hood's factors for this face are stated for: the factor of the nearest range is taken, and the uncertainty holds the largest stated for this face.`,
  'note.no_hood_factor': (p: { readings: number }) =>
    `The hood has no factor for this face: ${several(p.readings, 'reading counts', 'readings count')} as shown.`,
  'note.weak_for_pitot': (p: { readings: number }) =>
    `${several(p.readings, 'pressure is', 'pressures are')} too small to trust a pitot tube (under 5 Pa or 3 m/s).`,
  'note.unusable': (p: { readings: number }) =>
    `${several(p.readings, 'reading says', 'readings say')} nothing of this terminal's air (another quantity, or a pressure the wrong way) and ${p.readings === 1 ? 'is' : 'are'} left out.`,
  'note.pressure_at_density': (p: { densityKgpm3: number }, f: Formatter) =>
    `As indicated, its pressures are worked out for air of ${f.decimal(p.densityKgpm3, 3)} kg/m³.`,
  'note.no_way': (p: { tags: string; terminals: number }) =>
    `${p.tags} ${p.terminals === 1 ? 'is' : 'are'} not in this run: neither a duct nor a flow element is described there. Describe one to measure ${p.terminals === 1 ? 'it' : 'them'}.`,
  'note.no_direction': (_p: None) =>
    'No duct is described here, so nothing says which way its air goes: it is shown as supply and counts in no total of the room. Describe the duct with its direction to have it count.',
  'note.traverse_so_far': (_p: None) => 'The traverse has points left out: its mean is not the average of the rule.',
  'note.return_within_room': (_p: None) => 'Its air stays within this room: it is in no sum of the balance.',
  'note.stood_for_by_duct': (p: { ducts: string }) => `In the room's totals the air counts as measured in the duct (${p.ducts}).`,
  'note.stood_for_by_duct_unnamed_system': (p: { ducts: string }) =>
    `In the room's totals the air counts as measured in the duct (${p.ducts}): one of the two names no air system, so they are taken to be on the same one. Name both to have it counted for itself where they are not.`,
}
