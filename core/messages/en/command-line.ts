import type { Verdict } from '#core/model/criteria.ts'
import type { FilterResult, Uncertainty } from '#core/model/results.ts'
import type { Dimension } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'

type None = Record<never, never>

const VERDICTS: { readonly [V in Verdict]: string } = {
  pass: 'pass',
  fail: 'fail',
  inconclusive: 'inconclusive',
  not_tested: 'not tested',
  not_valid: 'not valid',
  not_applicable: 'not applicable',
}

/** A figure with U and k where they are known. */
function sure(value: number | null, uncertainty: Uncertainty | null, dimension: Dimension, f: Formatter): string {
  if (value === null || !uncertainty) return f.quantity(value, dimension)
  return `${f.plusMinus(value, uncertainty.expanded, dimension)} (k = ${uncertainty.coverageFactor.toFixed(2)})`
}

/** Words of the command line. */
export const commandLine = {
  'cli.usage': (_p: None) => `Facegrid on the command line. It computes with the same services as the screen.

  facegrid new FILE --name NAME --person PERSON [--organisation TEXT] [--time-zone ZONE]
  facegrid demo FILE                    makes the invented demo project
  facegrid import EXCHANGE FILE         makes a project file of an exchange file
  facegrid export FILE EXCHANGE         writes the full exchange form
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
  facegrid check FILE [--json]          checks the file against itself
  facegrid schema                       prints the JSON Schema of the exchange form

Exit status: 0 everything passes; 1 something fails; 3 nothing fails, but something is not tested, not valid or
inconclusive; 2 an error. Of check: 0 sound, 1 not sound, 2 an error.
The program supports and never replaces licensed practice, local codes and the site's own procedures.
`,
  'cli.unknown_command': (p: { command: string }) => `There is no command "${p.command}". Run facegrid --help for those there are.`,
  'cli.missing_argument': (p: { name: string; command: string }) =>
    `facegrid ${p.command} needs ${p.name}. Run facegrid --help for an example.`,
  'cli.too_many_arguments': (p: { command: string; extra: string }) =>
    `facegrid ${p.command} has no use for "${p.extra}". Put names with blanks in quotation marks, or run facegrid --help.`,
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
    return `${p.label}: ${asJudged ? VERDICTS[asJudged] : 'not there'} -> ${underDraft ? VERDICTS[underDraft] : 'not there'}.`
  },
  'cli.made': (p: { path: string }) => `Made ${p.path}`,
  'cli.written': (p: { path: string; bytes: number }) => `Wrote ${p.path} (${p.bytes} bytes)`,
  'cli.certification': (p: { name: string; startsOn: string; endsOn: string; verdict: Verdict }, f: Formatter) =>
    `${p.name} (${f.date(p.startsOn)} to ${f.date(p.endsOn)}): ${VERDICTS[p.verdict]}`,
  'cli.no_certification': (_p: None) => 'The project has no certification yet, so nothing is tested.',
  'cli.room': (
    p: { number: string; name: string; verdict: Verdict; airChangesPerHour: number | null; supplyFlowM3ps: number | null },
    f: Formatter,
  ) =>
    `Room ${p.number} ${p.name}: ${VERDICTS[p.verdict]}, air changes ${f.quantity(p.airChangesPerHour, 'air_change_rate')}, supply ${f.quantity(p.supplyFlowM3ps, 'flow')} (as indicated)`,
  'cli.run': (p: { phase: string; state: string; current: boolean; verdict: Verdict }) =>
    `${p.phase === 'as_found' ? 'As found' : 'As left'}, ${p.state}${p.current ? ', counts' : ', does not count'}: ${VERDICTS[p.verdict]}`,
  'cli.filter': (
    p: {
      tag: string
      verdict: Verdict
      meanVelocityMps: number | null
      uncertainty: FilterResult['uncertainty']
      standardDeviationMps: number | null
      relativeStandardDeviationPercent: number | null
      flowM3ps: number | null
      pointsMeasured: number
      pointsPlanned: number
    },
    f: Formatter,
  ) =>
    `${p.tag}: ${VERDICTS[p.verdict]}, mean ${sure(p.meanVelocityMps, p.uncertainty?.meanVelocity ?? null, 'velocity', f)}, standard deviation ${f.quantity(p.standardDeviationMps, 'velocity')} (${f.quantity(p.relativeStandardDeviationPercent, 'percent')}), flow ${sure(p.flowM3ps, p.uncertainty?.flow ?? null, 'flow', f)}, ${p.pointsMeasured} of ${p.pointsPlanned} points`,
  'cli.verdict': (p: { verdict: Verdict }) => `${VERDICTS[p.verdict]}:`,
  'cli.check_sound': (_p: None) => 'The file is sound.',
  'cli.check_broken': (_p: None) => 'The file is not sound.',
}
