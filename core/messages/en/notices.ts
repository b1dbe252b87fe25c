import type { Formatter } from '#core/units/formatter.ts'

const days = (count: number): string => (count === 1 ? '1 day' : `${count} days`)

/** What a person should know before starting: due dates, certificates, failures, replacements. */
export const notices = {
  'notice.due': (p: { name: string; on: string; days: number }, f: Formatter) =>
    p.days === 0
      ? `The next certification after ${p.name} is due today.`
      : `The next certification after ${p.name} is due on ${f.date(p.on)}, in ${days(p.days)}.`,
  'notice.overdue': (p: { name: string; on: string; days: number }, f: Formatter) =>
    `The next certification after ${p.name} was due on ${f.date(p.on)}, ${days(p.days)} ago.`,
  'notice.never_calibrated': (p: { name: string }) => `${p.name} has no calibration certificate. Readings made with it are not valid.`,
  'notice.calibration_past': (p: { name: string; on: string }, f: Formatter) =>
    `The calibration of ${p.name} ended on ${f.date(p.on)}. Readings made with it now are not valid.`,
  'notice.calibration_in_visit': (p: { name: string; on: string; visit: string }, f: Formatter) =>
    `The calibration of ${p.name} ends on ${f.date(p.on)}, in the middle of ${p.visit}.`,
  'notice.calibration_ends': (p: { name: string; on: string; days: number }, f: Formatter) =>
    p.days === 0 ? `The calibration of ${p.name} ends today.` : `The calibration of ${p.name} ends on ${f.date(p.on)}, in ${days(p.days)}.`,
  'notice.in_doubt': (
    p: {
      name: string
      certificate: string
      on: string
      since: string | null
      deviation: string | null
      named: readonly { room: string; visit: string }[]
      more: number
    },
    f: Formatter,
  ) => {
    const count = p.named.length + p.more
    const runs = count === 1 ? '1 run' : `${count} runs`
    const since = p.since === null ? '' : `, since its calibration of ${f.date(p.since)}`
    const named = p.named.map(({ room, visit }) => `${room} (${visit})`).join(', ')
    const more = p.more > 0 ? `, and ${p.more} more` : ''
    const assessed = p.deviation === null ? 'Assess what this means for them.' : `Deviation ${p.deviation} deals with it.`
    return `${p.name} was found out of tolerance on ${f.date(p.on)} (certificate ${p.certificate}). ${runs} made with it before${since}, ${count === 1 ? 'is' : 'are'} in doubt: ${named}${more}. ${assessed}`
  },
  'notice.failed': (p: { room: string }) => `Room ${p.room} fails.`,
  'notice.failed_as_found': (p: { room: string }) => `Room ${p.room} failed as found and passes as left.`,
  'notice.replaced': (p: { tag: string; on: string }, f: Formatter) => `The filter in ${p.tag} was replaced on ${f.date(p.on)}.`,
}
