import { overlaps, type Rect } from './rect.ts'
import { RectField } from './rect-field.ts'

export type LabelRequest = {
  readonly id: string
  /** the face on the window, as its upright box */
  readonly face: Rect
  /** lines in the order in which they are worth showing */
  readonly lines: readonly string[]
  /** larger is placed first: the selected filter, then what fails */
  readonly weight: number
}

export type PlacedLabel = { readonly id: string; readonly lines: readonly string[]; readonly rect: Rect; readonly inside: boolean }

export type LabelStyle = { readonly lineHeight: number; readonly widthOf: (line: string) => number; readonly padding: number }

/**
 * Gives each face as many of its lines as fit inside; a face too small for one line may have its first line beside it where that
 * covers neither another face nor another label. What fits nowhere stays unlabelled: labels never overlap. Where most small faces would
 * stay so, as in a large field seen from afar, those of the usual weight all do: a label for its rim alone would mislead. `written` is
 * where other words stand already, such as names of zones: nothing is put beside a face there. What is in `sight` whole is preferred to
 * what its edge would cut.
 */
export function placeLabels(
  requests: readonly LabelRequest[],
  window: Rect,
  style: LabelStyle,
  { written = [], sight = window }: { readonly written?: readonly Rect[]; readonly sight?: Rect } = {},
): PlacedLabel[] {
  const seen = requests.filter((request) => overlaps(request.face, window))
  const placed: PlacedLabel[] = []
  const faces = new RectField()
  for (const request of seen) faces.add(request.face)
  for (const words of written) faces.add(words)
  const taken = new RectField()
  for (const request of seen.toSorted((a, b) => b.weight - a.weight)) {
    const label = insideFace(request, style) ?? besideFace(request, faces, taken, style, sight)
    if (!label || taken.touches(label.rect)) continue
    placed.push(label)
    taken.add(label.rect)
  }
  const inside = new Set(placed.filter((label) => label.inside).map((label) => label.id))
  const weights = seen.flatMap((request) => (inside.has(request.id) ? [] : [request.weight])).sort((a, b) => a - b)
  if ((placed.length - inside.size) * 2 >= weights.length) return placed
  const usual = weights[Math.floor(weights.length / 2)] ?? 0
  const worthMore = new Set(seen.flatMap((request) => (request.weight > usual ? [request.id] : [])))
  return placed.filter((label) => label.inside || worthMore.has(label.id))
}

function insideFace(request: LabelRequest, style: LabelStyle): PlacedLabel | null {
  // A line is lower than its step: above and below it less is needed than at its ends.
  const room = { width: request.face.width - 2 * style.padding, height: request.face.height - style.padding }
  const first = request.lines[0]
  if (first === undefined || style.widthOf(first) > room.width) return null
  const most = Math.floor(room.height / style.lineHeight)
  const lines = request.lines.filter((line) => style.widthOf(line) <= room.width).slice(0, most)
  if (lines.length === 0) return null
  const size = blockSize(lines, style)
  return {
    id: request.id,
    lines,
    inside: true,
    rect: {
      ...size,
      left: request.face.left + (request.face.width - size.width) / 2,
      top: request.face.top + (request.face.height - size.height) / 2,
    },
  }
}

function besideFace(request: LabelRequest, faces: RectField, taken: RectField, style: LabelStyle, sight: Rect): PlacedLabel | null {
  const first = request.lines[0]
  if (first === undefined) return null
  const { face } = request
  const size = blockSize([first], style)
  const gap = style.padding
  const middleX = face.left + (face.width - size.width) / 2
  const middleY = face.top + (face.height - size.height) / 2
  const candidates: Rect[] = [
    { ...size, left: middleX, top: face.top + face.height + gap },
    { ...size, left: middleX, top: face.top - size.height - gap },
    { ...size, left: face.left + face.width + gap, top: middleY },
    { ...size, left: face.left - size.width - gap, top: middleY },
  ]
  const free = candidates.filter((rect) => !faces.touches(rect) && !taken.touches(rect))
  const best = free.find((rect) => holds(sight, rect)) ?? free[0]
  return best ? { id: request.id, lines: [first], inside: false, rect: best } : null
}

function holds(outer: Rect, rect: Rect): boolean {
  return (
    rect.left >= outer.left &&
    rect.top >= outer.top &&
    rect.left + rect.width <= outer.left + outer.width &&
    rect.top + rect.height <= outer.top + outer.height
  )
}

function blockSize(lines: readonly string[], style: LabelStyle): { width: number; height: number } {
  return { width: Math.max(...lines.map(style.widthOf)), height: lines.length * style.lineHeight }
}
