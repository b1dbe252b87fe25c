import type { Verdict } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import type { FilterResult } from '#core/model/results.ts'
import type { PlanPoint } from '#core/model/values.ts'
import { terminalCorners } from '#core/rooms/geometry.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { type ShadeRange, shadeOf } from '../plan/velocity-shade.ts'
import type { FaceNodeProps } from './face-node.tsx'
import { kindMark } from './kind-mark.ts'
import type { FaceText } from './label-layer.tsx'
import { pathOf } from './svg-path.ts'

/** What one terminal looks like, apart from being selected. */
export type FaceLook = {
  readonly id: string
  readonly x: number
  readonly y: number
  readonly corners: readonly PlanPoint[]
  readonly node: Omit<FaceNodeProps, 'selected' | 'current'>
  readonly text: FaceText
  /** in display units, where it was measured */
  readonly flowText: string
}

export type LookWords = {
  readonly formatter: Formatter
  readonly verdict: (verdict: Verdict) => string
  readonly name: (p: { tag: string; kind: Entity<'terminal'>['body']['kind']; verdict: string; velocity: string; flow: string }) => string
  readonly closed: string
}

/** Fails and the like get their labels first where there is not room for all. */
const LABEL_WEIGHT: Readonly<Record<Verdict, number>> = {
  fail: 4,
  not_valid: 3,
  inconclusive: 2,
  pass: 1,
  not_tested: 0,
  not_applicable: 0,
}

/** The look of a terminal in a run; without a result it is an open place: not tested, or a grille whose turn has not come. */
export function faceLook(terminal: Entity<'terminal'>, result: FilterResult | null, shade: ShadeRange | null, words: LookWords): FaceLook {
  const { body, id } = terminal
  const corners = terminalCorners(body)
  const verdict: Verdict = result?.verdict ?? (isSupply(body.kind) ? 'not_tested' : 'not_applicable')
  const mean = result?.meanVelocityMps ?? null
  const flow = result?.flowM3ps ?? null
  const shaded = shade && mean !== null ? shadeOf(mean, shade) : null
  const velocityText = mean === null ? '' : words.formatter.number(mean, 'velocity')
  const flowText = flow === null ? '' : words.formatter.number(flow, 'flow')
  const word = body.closed ? words.closed : words.verdict(verdict)
  const lines = [velocityText, body.tag, flowText, isSupply(body.kind) ? word : ''].filter((line) => line !== '')
  return {
    id,
    x: body.x,
    y: body.y,
    corners,
    node: {
      id,
      path: pathOf(corners),
      mark: kindMark(body.kind, corners),
      kind: body.kind,
      verdict,
      shade: shaded?.fill ?? null,
      closed: body.closed !== null,
      name: words.name({
        tag: body.tag,
        kind: body.kind,
        verdict: word,
        velocity: mean === null ? '' : words.formatter.quantity(mean, 'velocity'),
        flow: flow === null ? '' : words.formatter.quantity(flow, 'flow'),
      }),
    },
    flowText,
    text: { id, corners, tag: body.tag, lines, weight: LABEL_WEIGHT[verdict], ink: shaded?.ink ?? null },
  }
}

export const isSupply = (kind: Entity<'terminal'>['body']['kind']): boolean => kind === 'supply_filter' || kind === 'fan_filter_unit'
