import { median, medianAbsoluteDeviation } from 'simple-statistics'
import { message } from '#core/messages/say.ts'
import type { ComparisonRow, Sentence } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { instrumentsOf, namesOf, sameCriteria, wasReplaced } from './breaks.ts'
import type { CompareInput, CurrentOf } from './compare.ts'

/** A fall of a room's air changes by this much, percent, is worth a sentence (common practice). */
const NOTABLE_FALL_PERCENT = 5

/** A filter stands out when it lost this many percentage points more than the middle of its room (common practice) ... */
const NOTABLE_LOADING_POINTS = 5
/** ... and more than so many robust standard deviations of its room's changes. */
const ROBUST_DEVIATIONS = 3
/** The median absolute deviation times this estimates a standard deviation for normal scatter. */
const MAD_TO_SIGMA = 1.4826
const FEWEST_NEIGHBOURS = 3
const MOST_NAMED = 8

function list(names: readonly string[]): { names: string; more: number } {
  return { names: names.slice(0, MOST_NAMED).join(', '), more: Math.max(0, names.length - MOST_NAMED) }
}

function roomVerdicts(input: CompareInput, now: CurrentOf): Sentence[] {
  const failures: Sentence[] = []
  const retests: Sentence[] = []
  const unsettled: string[] = []
  for (const room of input.later.state.rooms) {
    if (input.roomId !== null && room.roomId !== input.roomId) continue
    const label = input.roomLabels.get(room.roomId) ?? ''
    if (room.verdict === 'fail') failures.push(message('summary.fails', { room: label, run: room.headline }))
    else if (room.failedAsFound)
      retests.push(message('summary.retested', { room: label, run: asFoundHeadline(room.runs) ?? room.headline }))
    if (room.verdict === 'not_tested' || room.verdict === 'not_valid' || room.verdict === 'inconclusive') unsettled.push(label)
  }
  const open = unsettled.length > 0 ? [message('summary.unsettled', { rooms: list(unsettled).names, count: unsettled.length })] : []
  return now.runs.length === 0 ? [...failures, ...retests, message('summary.nothing_measured', {})] : [...failures, ...retests, ...open]
}

function asFoundHeadline(runs: CompareInput['later']['state']['rooms'][number]['runs']): Sentence | null {
  return runs.find((run) => run.phase === 'as_found' && !run.current && run.verdict === 'fail')?.headline ?? null
}

/** Rooms whose two figures speak of different air: the same air told otherwise is no change. */
function otherBases(input: CompareInput, then: CurrentOf, now: CurrentOf): Sentence[] {
  return [...now.rooms].flatMap(([roomId, run]) => {
    const before = then.rooms.get(roomId)?.result.room
    const after = run.result.room
    if (!before || before.airChangesPerHour === null || after.airChangesPerHour === null || before.basis === after.basis) return []
    const bases = { before: before.basis, now: after.basis }
    return [message('summary.other_basis', { room: input.roomLabels.get(roomId) ?? '', bases })]
  })
}

/**
 * Rooms whose air changes fell notably, on one basis. The root of the sum of both squares is the most that independent errors come to, and
 * errors that both visits share (a certificate, an area, the volume) cancel in the difference: a fall beyond it is more than the uncertainty
 * explains; one within it may be real all the same, and is told with both U. Source: GUM 5.2.2 with r >= 0.
 */
function fallenRooms(input: CompareInput, then: CurrentOf, now: CurrentOf): Sentence[] {
  const falls: { percent: number; sentence: Sentence }[] = []
  for (const [roomId, run] of now.rooms) {
    const thenPerHour = then.rooms.get(roomId)?.result.room.airChangesPerHour ?? null
    const nowPerHour = run.result.room.airChangesPerHour
    if (thenPerHour === null || nowPerHour === null || !(thenPerHour > 0)) continue
    if (then.rooms.get(roomId)?.result.room.basis !== run.result.room.basis) continue
    const percent = (100 * (thenPerHour - nowPerHour)) / thenPerHour
    if (percent < NOTABLE_FALL_PERCENT) continue
    const [before, after] = [then.rooms.get(roomId), run].map((one) => one?.result.room.uncertainty?.airChanges?.expanded ?? null)
    const expanded = before == null || after == null ? null : { before, now: after }
    const figure = { thenPerHour, nowPerHour, percent, expanded }
    falls.push({ percent, sentence: message('summary.air_changes_fell', { room: input.roomLabels.get(roomId) ?? '', figure }) })
  }
  return falls.sort((a, b) => b.percent - a.percent).map((fall) => fall.sentence)
}

/** Filters whose loss stands out from the middle of their room; replaced filters are no neighbours. */
function loadingFilters(input: CompareInput, then: CurrentOf, now: CurrentOf, rows: readonly ComparisonRow[]): Sentence[] {
  const byRoom = new Map<Uuid, { label: string; percent: number }[]>()
  for (const row of rows) {
    if (row.kind !== 'filter' || row.figure.changePercent === null) continue
    const before = then.filters.get(row.id)
    const after = now.filters.get(row.id)
    if (!before || !after || wasReplaced(row.id, before.run, after.run)) continue
    const room = byRoom.get(row.roomId)
    const change = { label: row.label, percent: row.figure.changePercent }
    if (room) room.push(change)
    else byRoom.set(row.roomId, [change])
  }
  const sentences: Sentence[] = []
  for (const [roomId, changes] of byRoom) {
    if (changes.length <= FEWEST_NEIGHBOURS) continue
    const percents = changes.map((change) => change.percent)
    const middle = median(percents)
    const scatter = MAD_TO_SIGMA * medianAbsoluteDeviation(percents)
    const threshold = middle - Math.max(NOTABLE_LOADING_POINTS, ROBUST_DEVIATIONS * scatter)
    const loading = changes.filter((change) => change.percent < threshold && change.percent < 0).sort((a, b) => a.percent - b.percent)
    if (loading.length === 0) continue
    const { names, more } = list(loading.map((change) => change.label))
    const figure = { worstPercent: loading[0]?.percent ?? 0, middlePercent: middle }
    sentences.push(
      message('summary.loading', { room: input.roomLabels.get(roomId) ?? '', tags: names, more, count: loading.length, figure }),
    )
  }
  return sentences
}

function replacedFilters(then: CurrentOf, now: CurrentOf): Sentence[] {
  const tags: string[] = []
  for (const [id, after] of now.filters) {
    const before = then.filters.get(id)
    if (before && wasReplaced(id, before.run, after.run)) tags.push(after.filter.tag)
  }
  if (tags.length === 0) return []
  const { names, more } = list(tags.sort((a, b) => a.localeCompare(b, 'en', { numeric: true })))
  return [message('summary.replaced', { tags: names, more, count: tags.length })]
}

function changedInstruments(then: CurrentOf, now: CurrentOf): Sentence[] {
  const idsOf = (current: CurrentOf) => {
    const names = new Map<Uuid, string>()
    for (const run of current.runs) for (const id of instrumentsOf(run)) if (!names.has(id)) names.set(id, namesOf([id], run))
    return names
  }
  const before = idsOf(then)
  const after = idsOf(now)
  if (before.size === 0 || after.size === 0) return []
  const gone = [...before].filter(([id]) => !after.has(id)).map(([, name]) => name)
  const come = [...after].filter(([id]) => !before.has(id)).map(([, name]) => name)
  if (gone.length === 0 && come.length === 0) return []
  return [
    message('summary.instruments', {
      before: list(gone).names,
      now: list(come).names,
      counts: { gone: gone.length, come: come.length },
    }),
  ]
}

function changedCriteria(then: CurrentOf, now: CurrentOf): Sentence[] {
  let rooms = 0
  for (const [roomId, run] of now.rooms) {
    const before = then.rooms.get(roomId)
    if (before && !sameCriteria(before, run)) rooms += 1
  }
  return rooms > 0 ? [message('summary.criteria', { rooms })] : []
}

/**
 * What a reader has to know first, the worst first: rooms that fail with the reason, rooms that failed as found and were retested, rooms
 * that are not settled, rooms whose air changes fell by {@link NOTABLE_FALL_PERCENT} or more or speak of other air than before, filters that lost clearly more
 * than their neighbours, replaced filters, changed instruments and criteria, signed figures that today's calculation gives otherwise.
 */
export function summarise(input: CompareInput, then: CurrentOf, now: CurrentOf, rows: readonly ComparisonRow[]): Sentence[] {
  const differing = rows.filter((row) => row.differsFromSigned).length
  const sentences = [
    ...roomVerdicts(input, now),
    ...fallenRooms(input, then, now),
    ...otherBases(input, then, now),
    ...loadingFilters(input, then, now, rows),
    ...replacedFilters(then, now),
    ...changedInstruments(then, now),
    ...changedCriteria(then, now),
    ...(differing > 0 ? [message('summary.calculation_changed', { rows: differing })] : []),
  ]
  return sentences.length > 0 ? sentences : [message('summary.nothing', {})]
}
