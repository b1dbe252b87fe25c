import type { ImportedRow } from '#core/api/imports.ts'

/** The proposed readings by face and point, each point's samples in one text, as the face shows them. */
export function laidOntoFaces(
  rows: readonly ImportedRow[],
  faceOfPoint: ReadonlyMap<number, string>,
): ReadonlyMap<string, ReadonlyMap<number, { text: string; flags: string }>> {
  const faces = new Map<string, Map<number, { text: string; flags: string }>>()
  for (const { point, typed, flags } of rows) {
    const owner = faceOfPoint.get(point)
    if (owner === undefined) continue
    const face = faces.get(owner) ?? new Map<number, { text: string; flags: string }>()
    faces.set(owner, face)
    const before = face.get(point)
    const marks = new Set([...(before?.flags.split(' ').filter((flag) => flag !== '') ?? []), ...flags])
    face.set(point, { text: before ? `${before.text}\n${typed}` : typed, flags: [...marks].join(' ') })
  }
  return faces
}
