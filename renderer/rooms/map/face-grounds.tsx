import { memo } from 'react'
import type { Verdict } from '#core/model/criteria.ts'
import { VERDICT_GROUND } from '#renderer/ui/verdict-patterns.tsx'
import type { FaceLook } from './face-look.ts'
import { planHatch } from './plan-hatches.tsx'

/** Fills and hatches of all faces, one path for each verdict or shade: a room of five hundred filters is painted in a handful of fills. */
export const FaceGrounds = memo(function FaceGrounds({ faces }: { faces: readonly FaceLook[] }) {
  const shades = Map.groupBy(
    faces.filter((face) => face.node.shade !== null),
    (face) => face.node.shade ?? '',
  )
  const verdicts = Map.groupBy(
    faces.filter((face) => face.node.shade === null),
    (face): Verdict => face.node.verdict,
  )
  return (
    <g>
      <path d={joinedPath(faces)} style={{ fill: 'var(--raised)' }} />
      {[...shades].map(([shade, alike]) => (
        <path key={shade} d={joinedPath(alike)} style={{ fill: shade }} />
      ))}
      {[...verdicts].map(([verdict, alike]) => (
        <g key={verdict}>
          <path d={joinedPath(alike)} style={{ fill: VERDICT_GROUND[verdict] }} />
          <path d={joinedPath(alike)} style={{ fill: planHatch(verdict) }} />
        </g>
      ))}
    </g>
  )
})

const joinedPath = (faces: readonly FaceLook[]): string => faces.map((face) => face.node.path).join('')
