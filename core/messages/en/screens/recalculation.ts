import type { Verdict } from '#core/model/criteria.ts'
import type { Phase } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { PHASE, VERDICT } from '../states.ts'

type None = Record<never, never>

const STATE = { open: 'open', complete: 'complete', signed: 'signed' } as const
type Told = { verdict: Verdict; meanVelocityMps: number | null; airChangesPerHour: number | null }
const told = ({ verdict, meanVelocityMps, airChangesPerHour }: Told, f: Formatter) =>
  `${VERDICT[verdict]}, ${f.quantity(meanVelocityMps, 'velocity')}, ${f.quantity(airChangesPerHour, 'air_change_rate')}`

/** Words of the preview after an instrument was found out of tolerance, on the screen and on the command line. */
export const recalculation = {
  'recalculation.title': (p: { certificate: string }) => `Readings in doubt by certificate ${p.certificate}`,
  'recalculation.about': (p: { from: string | null; to: string; runs: number }, f: Formatter) => {
    const since = p.from === null ? `until ${f.date(p.to)}` : `from ${f.date(p.from)} to ${f.date(p.to)}`
    const runs = p.runs === 1 ? 'One run has' : `${p.runs} runs have`
    return `It was found out of tolerance: ${runs} readings of it ${since}. Assess each of them.`
  },
  'recalculation.none': (_p: None) => 'No run was read with it in that time.',
  'recalculation.deviation': (p: { number: string }) => `Deviation ${p.number} is written for it.`,
  'recalculation.points': (p: { points: number }) =>
    p.points > 0
      ? `“Corrected” takes the ${p.points} points of this certificate for those as found: what it showed, and what was true, before any adjustment. If they were written down as left, “Corrected” does not hold.`
      : 'The certificate has no points yet. Enter its as-found points to see the readings corrected.',
  'recalculation.nothing_rewritten': (_p: None) => 'A preview: nothing that was measured, judged or signed is rewritten.',
  'recalculation.run': (_p: None) => 'Run',
  'recalculation.run_name': (p: { certification: string; room: string; of: { phase: Phase } }) =>
    `${p.room}, ${PHASE[p.of.phase]} · ${p.certification}`,
  'recalculation.state': (p: { of: { state: keyof typeof STATE } }) => STATE[p.of.state],
  'recalculation.readings': (_p: None) => 'In doubt',
  'recalculation.readings_of': (p: { n: number; of: number }) => `${p.n} of ${p.of}`,
  'recalculation.stands': (_p: None) => 'As it stands',
  'recalculation.corrected': (_p: None) => 'Corrected',
  'recalculation.without': (_p: None) => 'Without them',
  'recalculation.not_corrected': (_p: None) => 'no points for this',
  'recalculation.changed': (_p: None) => 'another verdict',

  'cli.recalculation.none': (p: { instrument: string }) => `${p.instrument} was never found out of tolerance.`,
  'cli.recalculation.run': (
    p: { certification: string; room: string; of: { phase: Phase }; stands: Told; corrected: Told | null; without: Told },
    f: Formatter,
  ) =>
    [
      `${p.room}, ${PHASE[p.of.phase]}, ${p.certification}`,
      `    as it stands: ${told(p.stands, f)}`,
      `    corrected:    ${p.corrected ? told(p.corrected, f) : 'the certificate has no points for this'}`,
      `    without them: ${told(p.without, f)}`,
    ].join('\n'),
}
