import type { Verdict } from '#core/model/criteria.ts'
import type { AirOfRun, DoorResult, FilterResult, RoomBalanceFigures, RoomFigures, Uncertainty, ZoneResult } from '#core/model/results.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { AirDirection, Duct, FlowWay } from '#core/model/terminals.ts'
import type { Basis, Dimension } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { byMethod } from './history.ts'
import { VERDICT } from './states.ts'
import { TRAVERSE_PROBLEM, TRAVERSE_RULE } from './traverse-words.ts'

type None = Record<never, never>

const BASIS: { readonly [B in Basis]: string } = { as_indicated: 'as indicated', standard: 'standard air', actual: 'actual air' }

const WAYS: { readonly [W in FlowWay]: string } = {
  face_grid: 'face grid',
  hood: 'hood',
  duct_traverse: 'duct traverse',
  flow_element: 'flow element',
}

const SIGNS = { positive: 'air leaves', negative: 'air comes in', undecided: 'undecided' } as const
const AGREEMENTS = {
  agrees: 'agrees',
  disagrees: 'DISAGREES',
  cannot_tell: 'cannot be told',
  both_ways: 'cannot be told: air goes both ways here',
} as const

/** A density of air, with the three decimals that conditions support. */
function density(kgpm3: number | null): string {
  return kgpm3 === null ? 'not known' : `${kgpm3.toFixed(3)} kg/m³`
}

/** A figure with U and k where they are known. */
/** The limits that the room's own figures were held against, SI: what is printed lies on the same side of them as what was judged. */
type HeldAgainst = { readonly airChanges: readonly number[]; readonly flow: readonly number[] }

function sure(
  value: number | null,
  uncertainty: Uncertainty | null,
  dimension: Dimension,
  f: Formatter,
  heldAgainst: readonly number[] = [],
): string {
  if (value === null || !uncertainty) return f.quantity(value, dimension, { heldAgainst })
  return `${f.plusMinus(value, uncertainty.expanded, dimension, { heldAgainst })} (k = ${uncertainty.coverageFactor.toFixed(2)})`
}

/** An offset stands behind the flows that it is the sum of, and is shown to their digits, not to those of its uncertainty. */
function offsetWords(offsetM3ps: number | null, uncertainty: Uncertainty | null, f: Formatter): string {
  if (offsetM3ps === null || !uncertainty) return f.quantity(offsetM3ps, 'flow')
  return `${f.number(offsetM3ps, 'flow')} ± ${f.uncertainty(uncertainty.expanded, 'flow')} (k = ${uncertainty.coverageFactor.toFixed(2)})`
}

/** Words of the command line. */
export const commandLine = {
  'cli.usage': (_p: None) => `Facegrid on the command line. It computes with the same services as the screen.

  facegrid new FILE --name NAME --person PERSON [--organisation TEXT] [--time-zone ZONE]
  facegrid demo FILE                    makes the invented demo project
  facegrid import EXCHANGE FILE         makes a project file of an exchange file
  facegrid export FILE EXCHANGE         writes the full exchange form
  facegrid import-readings FILE DATA --mapping NAME|MAPPING.json (--run ID | --certification NAME)
           [--person NAME] [--instrument SERIAL] [--first-point N] [--dry-run] [--again] [--json]
                                        readings from a delimited file: all of them, or with one problem none
  facegrid evaluate FILE [--certification NAME | --all] [--json]
                                        results, limits and verdicts of the latest certification
  facegrid balance FILE [--certification NAME] [--json]
                                        how the air of the site and of its air systems adds up
  facegrid what-if FILE [--room NUMBER] [--certification NAME] [--json]
                                        which filter, raised by how much, brings a room to its limit; changes nothing
  facegrid recalculate FILE --instrument SERIAL [--json]
                                        an instrument found out of tolerance: every run it touched, corrected and without it
  facegrid budget FILE --room NUMBER [--filter TAG] [--figure NAME] [--certification NAME] [--json]
                                        uncertainty budget of a figure, line by line: mean-velocity, flow, percent-of-design,
                                        air-changes, outside-air-changes, offset, offset-percent
  facegrid preview FILE --criteria SET.json [--set NAME] [--certification NAME] [--json]
                                        verdicts if a criteria set read as in SET.json; changes nothing
  facegrid traverses FILE [--room NUMBER] [--json]
                                        where the points of every duct traverse lie, and how deep the probe goes in
  facegrid check FILE [--json]          checks the file against itself
  facegrid schema                       prints the JSON Schema of the exchange form

Exit status: 0 everything passes; 1 something fails; 3 nothing fails, but something is not tested, not valid or
inconclusive; 2 an error. Of check: 0 sound, 1 not sound, 2 an error.
The program supports and never replaces licensed practice, local codes and the site's own procedures.
`,
  'cli.traverse': (
    p: { tag: string; rule: Duct['rule']; areaM2: number; of: { shape: 'rectangle' | 'round'; lines: number; points: number } },
    f: Formatter,
  ) =>
    `${p.tag}: ${TRAVERSE_RULE[p.rule]}, ${p.of.lines} ${p.of.shape === 'round' ? 'diameters' : 'lines'} of ${p.of.points} points, ${f.quantity(p.areaM2, 'area')}; depths from the inner wall at the port`,
  'cli.traverse.port': (p: { port: number; insertionsM: readonly number[]; of: { shape: 'rectangle' | 'round' } }, f: Formatter) => {
    const depths = p.insertionsM.map((depth) => f.quantity(depth, 'length', { unit: 'mm', digits: 1 })).join(', ')
    return p.of.shape === 'round'
      ? `  diameter at ${f.decimal(p.port, 0)}° clockwise from the top: ${depths}`
      : `  line ${f.quantity(p.port, 'length', { unit: 'mm', digits: 1 })} from the left inner wall: ${depths}`
  },
  'cli.traverse.none': (p: { tag: string; problem: keyof typeof TRAVERSE_PROBLEM }) => `${p.tag}: ${TRAVERSE_PROBLEM[p.problem]}`,
  'cli.traverse.no_duct': (_p: Record<never, never>) => 'No duct section is measured by a traverse.',
  'cli.unknown_command': (p: { command: string }) => `There is no command "${p.command}". Run facegrid --help for those there are.`,
  'cli.missing_argument': (p: { name: string; command: string }) =>
    `facegrid ${p.command} needs ${p.name}. Run facegrid --help for an example.`,
  'cli.all_or_one': (_p: Record<never, never>) =>
    'Either --all certifications or one by --certification NAME can be evaluated: leave one of the two out.',
  'cli.too_many_arguments': (p: { command: string; extra: string }) =>
    `facegrid ${p.command} has no use for "${p.extra}". Put names with blanks in quotation marks, or run facegrid --help.`,
  'cli.import.problem': (p: { row: number | null; why: string }) =>
    p.row === null ? `And ${p.why} more rows with a problem.` : `Row ${p.row}: ${p.why}`,
  'cli.import.earlier': (p: { at: string; name: string }, f: Formatter) =>
    `The same file was imported on ${f.dateTime(p.at)}, as ${p.name}.`,
  'cli.import.end': (p: { name: string; rows: number; readings: number; problemRows: number; imported: boolean }) =>
    p.imported
      ? `Imported ${p.readings} readings from ${p.name}.`
      : `${p.name}: ${p.rows} rows, ${p.readings} can become readings, ${p.problemRows} have a problem. Nothing was written.`,
  'cli.import.no_mapping': (p: { name: string }) =>
    `The project has no mapping called "${p.name}". Save one on the import screen, or name a .json file that holds one.`,
  'cli.import.bad_mapping': (p: { name: string; path: string; detail: string }) =>
    `${p.name} holds no mapping${p.path === '' ? '' : `; look at ${p.path}`}: ${p.detail}.`,
  'cli.no_such_certification': (p: { name: string }) => `The project has no certification called "${p.name}".`,
  'cli.no_such_room': (p: { name: string }) => `No room "${p.name}" was measured in this certification.`,
  'cli.no_such_instrument': (p: { name: string }) => `The project has no instrument "${p.name}". Give its serial number or its name.`,
  'cli.no_such_figure': (p: { name: string; known: string[] }) =>
    `There is no budget of "${p.name}". There are ${p.known.map((name) => name.replaceAll('_', '-')).join(', ')}.`,
  'cli.no_such_filter': (p: { name: string }) => `Nothing called "${p.name}" was measured in the run that counts.`,
  'cli.no_such_set': (p: { name: string }) => `The project has no criteria set called "${p.name}". Say which one with --set.`,
  'cli.unreadable_criteria': (p: { path: string }) => `${p.path} cannot be read as JSON. Give a file with one criteria set.`,
  'cli.broken_criteria': (p: { path: string; field: string; problem: string }) => `${p.path} is no criteria set: ${p.field} ${p.problem}.`,
  'cli.preview.about': (p: { certification: string; set: string }) =>
    `${p.certification}: what would change if "${p.set}" read as in the file. Nothing is kept.`,
  'cli.preview.turned': (p: { label: string; of: { asJudged: Verdict | null; underDraft: Verdict | null } }) => {
    const { asJudged, underDraft } = p.of
    return `${p.label}: ${asJudged ? VERDICT[asJudged] : 'not there'} -> ${underDraft ? VERDICT[underDraft] : 'not there'}.`
  },
  'cli.made': (p: { path: string }) => `Made ${p.path}`,
  'cli.written': (p: { path: string; bytes: number }) => `Wrote ${p.path} (${p.bytes} bytes)`,
  'cli.certification': (p: { name: string; startsOn: string; endsOn: string; verdict: Verdict }, f: Formatter) =>
    `${p.name} (${f.date(p.startsOn)} to ${f.date(p.endsOn)}): ${VERDICT[p.verdict]}`,
  'cli.no_certification': (_p: None) => 'The project has no certification yet, so nothing is tested.',
  'cli.room': (
    p: {
      number: string
      name: string
      verdict: Verdict
      airChangesPerHour: number | null
      supplyFlowM3ps: number | null
      of: { basis: Basis; method: MethodId | null; heldAgainst: HeldAgainst }
    },
    f: Formatter,
  ) =>
    `Room ${p.number} ${p.name}: ${VERDICT[p.verdict]}, air changes ${f.quantity(p.airChangesPerHour, 'air_change_rate', { heldAgainst: p.of.heldAgainst.airChanges })}, supply ${f.quantity(p.supplyFlowM3ps, 'flow', { heldAgainst: p.of.heldAgainst.flow })} (${BASIS[p.of.basis]})${p.of.method === null ? '' : `, ${byMethod(p.of.method)}`}`,
  'cli.air': (p: { of: AirOfRun }) => {
    const { actualKgpm3, atInstrumentKgpm3, standardKgpm3, pressureFrom } = p.of
    const apart = atInstrumentKgpm3 !== actualKgpm3 ? `, at the instrument ${density(atInstrumentKgpm3)}` : ''
    const from = pressureFrom === null ? '' : `; pressure ${pressureFrom === 'measured' ? 'measured' : 'from the altitude'}`
    return `Air ${density(actualKgpm3)}${apart}, standard ${density(standardKgpm3)}${from}`
  },
  'cli.room_totals': (p: { of: RoomFigures; heldAgainst: HeldAgainst }, f: Formatter) => {
    const { airChangesPerHour, supplyFlowM3ps, percentOfDesign, uncertainty, basis } = p.of
    const design = percentOfDesign === null ? '' : `, ${f.quantity(percentOfDesign, 'percent')} of design`
    return `Room (${BASIS[basis]}): air changes ${sure(airChangesPerHour, uncertainty?.airChanges ?? null, 'air_change_rate', f, p.heldAgainst.airChanges)}, supply ${sure(supplyFlowM3ps, uncertainty?.supplyFlow ?? null, 'flow', f, p.heldAgainst.flow)}${design}`
  },
  'cli.room_balance': (p: { of: RoomBalanceFigures; offset: Uncertainty | null }, f: Formatter) => {
    const { supplyM3ps, returnM3ps, exhaustM3ps, offsetM3ps, offsetAtRoomM3ps, offsetPercentOfSupply, basis } = p.of
    const percent = offsetPercentOfSupply === null ? '' : `, ${f.quantity(offsetPercentOfSupply, 'percent')} of supply`
    const atRoom = offsetAtRoomM3ps === null ? '' : `, ${f.quantity(offsetAtRoomM3ps, 'flow')} of the air in the room`
    return `Balance (${BASIS[basis]}): supply ${f.quantity(supplyM3ps, 'flow')} − return ${f.quantity(returnM3ps, 'flow')} − exhaust ${f.quantity(exhaustM3ps, 'flow')} = ${offsetWords(offsetM3ps, p.offset, f)}${percent}${atRoom}`
  },
  'cli.door': (p: { of: DoorResult }, f: Formatter) => {
    const { name, wantedPa, measuredPa, expected, measuredAgainstWanted, measuredAgainstBalance } = p.of
    const should = wantedPa === null ? 'nothing wanted' : `wanted ${f.quantity(wantedPa, 'pressure')}: ${AGREEMENTS[measuredAgainstWanted]}`
    const balance = expected === null ? 'no balance' : `by the balance ${SIGNS[expected]}: ${AGREEMENTS[measuredAgainstBalance]}`
    return `Door ${name}: measured ${f.quantity(measuredPa, 'pressure')}; ${should}; ${balance}`
  },
  'cli.zone': (p: { of: ZoneResult }, f: Formatter) => {
    const { name, verdict, meanVelocityMps, uncertainty, relativeStandardDeviationPercent, pointsWithinPercent, closedFaces, basis } = p.of
    const closed = closedFaces === 0 ? '' : ` (${closedFaces} closed: zero in the mean, left out of the rest)`
    const within = pointsWithinPercent === null ? '' : `, ${f.quantity(pointsWithinPercent, 'percent')} of the points within their limits`
    return `${name} (${BASIS[basis]}): ${VERDICT[verdict]}, mean ${sure(meanVelocityMps, uncertainty, 'velocity', f)}, relative standard deviation ${f.quantity(relativeStandardDeviationPercent, 'percent')}${within}${closed}`
  },
  'cli.run': (p: { phase: string; state: string; current: boolean; verdict: Verdict }) =>
    `${p.phase === 'as_found' ? 'As found' : 'As left'}, ${p.state}${p.current ? ', counts' : ', does not count'}: ${VERDICT[p.verdict]}`,
  'cli.filter': (p: { of: FilterResult }, f: Formatter) => {
    const { tag, verdict, way, direction, carried, basis, uncertainty, pointsMeasured, pointsPlanned } = p.of
    const { meanVelocityMps, standardDeviationMps, relativeStandardDeviationPercent, flowM3ps, hoodFactor } = p.of
    const towards: { readonly [D in AirDirection]: string } = { supply: '', return: 'return, ', exhaust: 'exhaust, ' }
    const velocity =
      way === 'face_grid' || way === 'duct_traverse'
        ? `mean ${sure(meanVelocityMps, uncertainty?.meanVelocity ?? null, 'velocity', f)}, standard deviation ${f.quantity(standardDeviationMps, 'velocity')} (${f.quantity(relativeStandardDeviationPercent, 'percent')}), `
        : ''
    const factor = hoodFactor === null ? '' : `, hood factor ${hoodFactor.toFixed(3)}`
    return `${tag}: ${VERDICT[verdict]}, ${towards[direction]}${WAYS[way]}, ${BASIS[basis]}, ${velocity}flow ${sure(flowM3ps, uncertainty?.flow ?? null, 'flow', f)}${factor}, ${pointsMeasured} of ${pointsPlanned} points${carried ? ', carried from as found' : ''}`
  },
  'cli.verdict': (p: { verdict: Verdict }) => `${VERDICT[p.verdict]}:`,
  'cli.check_sound': (_p: None) => 'The file is sound.',
  'cli.check_broken': (_p: None) => 'The file is not sound.',
}
