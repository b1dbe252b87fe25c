import { outlineOf } from '#core/rooms/geometry.ts'
import { openPathOf, pathOf } from '../map/svg-path.ts'
import styles from './editor.module.css'
import { cornersOfBox, type Preview } from './preview.ts'

const FAR_M = 1000

/** The picture of a gesture under way, over the plan. */
export function PreviewLayer({ preview }: { preview: Preview }) {
  switch (preview.kind) {
    case 'none':
    case 'door':
      return null
    case 'moving':
      return preview.guides.map((guide) => (
        <path
          key={`${guide.axis} ${guide.at}`}
          className={styles.guide}
          d={guide.axis === 'x' ? `M${guide.at} ${-FAR_M}V${FAR_M}` : `M${-FAR_M} ${-guide.at}H${FAR_M}`}
        />
      ))
    case 'marquee':
      return <path className={styles.marquee} d={pathOf(cornersOfBox(preview.box))} />
    case 'zone':
      return <path className={styles.ghost} d={pathOf(cornersOfBox(preview.box))} />
    case 'shape':
      return <path className={styles.ghost} d={pathOf(outlineOf(preview.shape))} />
    case 'outline':
      return <path className={styles.ghost} d={openPathOf(preview.next ? [...preview.corners, preview.next] : preview.corners)} />
    case 'ghosts':
      return <path className={styles.ghost} d={preview.faces.map(pathOf).join('')} />
  }
}
