import type { EntityBody } from '#core/model/entities.ts'
import type { PlanPoint } from '#core/model/values.ts'
import { openPathOf } from './svg-path.ts'

/**
 * The lines inside a face that tell its kind without colour: a fan filter unit carries a ring in its corner, a return grille one diagonal, an
 * exhaust grille two, a duct section a middle line, a supply filter none (common practice of ventilation drawings). `ringShare` is the
 * ring's radius as a share of the shorter side.
 */
export function kindMark(kind: EntityBody<'terminal'>['kind'], corners: readonly PlanPoint[], ringShare = 0.1): string {
  const [a, b, c, d] = corners
  if (!a || !b || !c || !d) return ''
  switch (kind) {
    case 'supply_filter':
      return ''
    case 'fan_filter_unit':
      return ring(cornerPlace(a, c, 1.3 * ringShare), Math.min(distance(a, b), distance(b, c)) * ringShare)
    case 'return_grille':
      return openPathOf([a, c])
    case 'exhaust_grille':
      return openPathOf([a, c]) + openPathOf([b, d])
    case 'duct_section':
      return openPathOf([between(a, d), between(b, c)])
  }
}

function ring(centre: PlanPoint, radius: number): string {
  const left = { x: centre.x - radius, y: -centre.y }
  return `M${left.x} ${left.y}a${radius} ${radius} 0 1 0 ${radius * 2} 0a${radius} ${radius} 0 1 0 ${-radius * 2} 0`
}

/** Towards corner `c`, clear of the figures in the middle. */
const cornerPlace = (a: PlanPoint, c: PlanPoint, share: number): PlanPoint => ({
  x: c.x + (a.x - c.x) * share,
  y: c.y + (a.y - c.y) * share,
})
const between = (p: PlanPoint, q: PlanPoint): PlanPoint => ({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 })
const distance = (p: PlanPoint, q: PlanPoint) => Math.hypot(p.x - q.x, p.y - q.y)
