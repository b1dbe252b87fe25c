import type { PlanPoint } from '#core/model/values.ts'

/** Closed path in the sheet's own frame: plan metres with y turned downwards, as SVG counts it. The plan itself is not mirrored by it. */
export function pathOf(corners: readonly PlanPoint[]): string {
  return `${openPathOf(corners)}Z`
}

export function openPathOf(corners: readonly PlanPoint[]): string {
  return corners.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${round(x)} ${round(-y)}`).join('')
}

const round = (metres: number) => Math.round(metres * 1e5) / 1e5
