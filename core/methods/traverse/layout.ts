import { EQUAL_RING_DIAMETERS, EQUAL_RING_POINTS, equalAreaLines, equalRingPlaces, equalStripPlaces } from './equal-area.ts'
import { LOG_LINEAR, LOG_LINEAR_DIAMETERS, logLinearPoints } from './log-linear.ts'
import { LOG_TCHEBYCHEFF, logTchebycheffLines } from './log-tchebycheff.ts'
import { type DuctSection, ductAreaM2, type RectangularRule, type RoundRule } from './rule.ts'

/**
 * What to measure. Rectangular: `lines` stand side by side across the width, each with `pointsPerLine` down the height, the probe put in at the
 * top. Round: `lines` are diameters, 2 or 3 usually. Null takes the rule's own number for the size.
 */
export type RectangularTraverse = {
  readonly section: Extract<DuctSection, { shape: 'rectangular' }>
  readonly rule: RectangularRule
  readonly lines: number | null
  readonly pointsPerLine: number | null
}
export type RoundTraverse = {
  readonly section: Extract<DuctSection, { shape: 'round' }>
  readonly rule: RoundRule
  readonly lines: number | null
  readonly pointsPerLine: number | null
}

/** One point of a traverse. Offsets in m from the centre of the section, right and up as seen looking with the air. */
export type TraversePoint = {
  /** from 1, in the order they are walked */
  readonly number: number
  /** from 1: left to right across the width, or diameter by diameter */
  readonly line: number
  /** from 1: the first is nearest to the port */
  readonly place: number
  /** of the line, from the inner wall at the port */
  readonly share: number
  /** how deep the probe goes in from the inner wall at the port, m */
  readonly insertionM: number
  readonly offsetXM: number
  readonly offsetYM: number
}

export type TraverseLayout = {
  readonly areaM2: number
  readonly lines: number
  readonly pointsPerLine: number
  /** rectangular: where each line stands, m from the left inner wall; round: the angle of each diameter, degrees clockwise from the top */
  readonly ports: readonly number[]
  /** the depths, m, that are the same on every line: what is marked on the probe */
  readonly insertionsM: readonly number[]
  readonly points: readonly TraversePoint[]
}

/** Why a traverse cannot be laid out: the field that does not fit. */
export type TraverseProblem = { readonly problem: 'size' | 'lines' | 'points_per_line' }

const MOST_EQUAL_LINES = 20
const MOST_DIAMETERS = 4

function isWhole(value: number, least: number, most: number): boolean {
  return Number.isInteger(value) && value >= least && value <= most
}

function isLength(value: number): boolean {
  return Number.isFinite(value) && value > 0
}

function placesAcross(rule: RectangularRule, sideM: number, wanted: number | null): readonly number[] | null {
  if (rule === 'equal_area') {
    const lines = wanted ?? equalAreaLines(sideM)
    return lines !== null && isWhole(lines, 1, MOST_EQUAL_LINES) ? equalStripPlaces(lines) : null
  }
  const lines = wanted ?? logTchebycheffLines(sideM)
  return lines === 5 || lines === 6 || lines === 7 ? LOG_TCHEBYCHEFF[lines] : null
}

function placesOnDiameter(rule: RoundRule, diameterM: number, wanted: number | null): readonly number[] | null {
  if (rule === 'equal_area') return equalRingPlaces(wanted ?? EQUAL_RING_POINTS)
  const points = wanted ?? logLinearPoints(diameterM)
  return points === 6 || points === 8 || points === 10 ? LOG_LINEAR[points] : null
}

function assemble(
  section: DuctSection,
  lengthM: number,
  ports: readonly number[],
  places: readonly number[],
  offset: (port: number, insertionM: number) => { x: number; y: number },
): TraverseLayout {
  const insertionsM = places.map((share) => share * lengthM)
  const points = ports.flatMap((port, lineIndex) =>
    places.map((share, placeIndex): TraversePoint => {
      const { x, y } = offset(port, share * lengthM)
      return {
        number: lineIndex * places.length + placeIndex + 1,
        line: lineIndex + 1,
        place: placeIndex + 1,
        share,
        insertionM: share * lengthM,
        offsetXM: x,
        offsetYM: y,
      }
    }),
  )
  return { areaM2: ductAreaM2(section), lines: ports.length, pointsPerLine: places.length, ports, insertionsM, points }
}

function layOutRectangular({ section, rule, lines, pointsPerLine }: RectangularTraverse): TraverseLayout | TraverseProblem {
  const { widthM, heightM } = section
  if (!isLength(widthM) || !isLength(heightM)) return { problem: 'size' }
  const across = placesAcross(rule, widthM, lines)
  if (across === null) return { problem: 'lines' }
  const down = placesAcross(rule, heightM, pointsPerLine)
  if (down === null) return { problem: 'points_per_line' }
  const ports = across.map((share) => share * widthM)
  return assemble(section, heightM, ports, down, (port, insertion) => ({ x: port - widthM / 2, y: heightM / 2 - insertion }))
}

function layOutRound({ section, rule, lines, pointsPerLine }: RoundTraverse): TraverseLayout | TraverseProblem {
  const { diameterM } = section
  if (!isLength(diameterM)) return { problem: 'size' }
  const diameters = lines ?? (rule === 'equal_area' ? EQUAL_RING_DIAMETERS : LOG_LINEAR_DIAMETERS)
  if (!isWhole(diameters, 1, MOST_DIAMETERS)) return { problem: 'lines' }
  const places = placesOnDiameter(rule, diameterM, pointsPerLine)
  if (places === null) return { problem: 'points_per_line' }
  const ports = Array.from({ length: diameters }, (_, index) => (180 * index) / diameters)
  return assemble(section, diameterM, ports, places, (degrees, insertion) => {
    const radius = diameterM / 2 - insertion
    const angle = (degrees * Math.PI) / 180
    return { x: radius * Math.sin(angle), y: radius * Math.cos(angle) }
  })
}

/**
 * Lays out the points of a duct traverse for the given inside size, with the insertion depth of every one. Numbers of lines and of points
 * that the rule does not have (log-Tchebycheff: 5, 6, 7; log-linear: 6, 8, 10; equal rings: even, 2 to 24) and sizes that are not above zero
 * come back as a problem that names the field. Source: the rule's own (see {@link LOG_TCHEBYCHEFF}, {@link LOG_LINEAR},
 * {@link equalRingPlaces}); numbering and ports are the house's.
 */
export function layOutTraverse(request: RectangularTraverse | RoundTraverse): TraverseLayout | TraverseProblem {
  return isRound(request) ? layOutRound(request) : layOutRectangular(request)
}

function isRound(request: RectangularTraverse | RoundTraverse): request is RoundTraverse {
  return request.section.shape === 'round'
}
