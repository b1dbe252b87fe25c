import type { Duct } from '#core/model/terminals.ts'
import { useFormatter, useProject, useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { DataTable } from '#renderer/ui/data-table.tsx'
import { Dialog } from '#renderer/ui/dialog.tsx'
import { useToast } from '#renderer/ui/toast.tsx'
import { asBlock, type DepthSheet } from './duct-changes.ts'
import styles from './panel.module.css'

type DepthDialogProps = { tag: string; duct: Duct; sheet: DepthSheet; onClose: () => void }

/** Where every point of a traverse lies for the given size: to mark the probe, to copy and to print. */
export function DepthDialog({ tag, duct, sheet, onClose }: DepthDialogProps) {
  const t = useSay()
  const f = useFormatter()
  const toast = useToast()
  const { display } = useProject().body
  const { shape } = duct.section
  // Marks on a probe are set by the millimetre or the sixteenth of an inch, never by the metre or foot.
  const unit = display.length === 'm' ? 'mm' : 'in'
  const digits = unit === 'mm' ? 0 : 2
  const depth = (metres: number) => f.number(metres, 'length', { unit, digits })
  const port = (value: number) => (shape === 'round' ? t('measuring.depths.degrees', { value }) : depth(value))
  const ports = sheet.ports.map((value, index) => ({ line: index + 1, value }))
  const copy = async () => {
    const block = asBlock([
      [
        t('measuring.depths.place', {}),
        `${t('measuring.depths.share', {})} %`,
        `${t('measuring.depths.depth', {})} ${f.unit('length', unit)}`,
      ],
      ...sheet.points.map((point) => [String(point.place), t('measuring.depths.percent', { value: point.share }), depth(point.depthM)]),
      [],
      [t('measuring.depths.lines', {}), t('measuring.depths.port', { of: { shape } })],
      ...ports.map(({ line, value }) => [t('measuring.depths.line', { n: line, of: { shape } }), port(value)]),
    ])
    try {
      await navigator.clipboard.writeText(block)
      toast.note(t('measuring.depths.copied', {}))
    } catch {
      toast.note(t('measuring.depths.not_copied', {}))
    }
  }
  return (
    <Dialog
      open
      onClose={onClose}
      title={t('measuring.depths', { tag })}
      actions={
        <>
          <Button icon="file" onClick={() => window.print()}>
            {t('measuring.depths.print', {})}
          </Button>
          <Button kind="primary" icon="copy" onClick={() => void copy()}>
            {t('measuring.depths.copy', {})}
          </Button>
        </>
      }
    >
      <div className={styles.fields}>
        <p>
          {t('measuring.depths.about', { size: sizeText(duct, (si) => f.quantity(si, 'length', { unit })), of: duct, points: sheet.count })}
        </p>
        <DataTable
          caption={t('measuring.depths.points', {})}
          columns={[
            { key: 'place', heading: t('measuring.depths.place', {}), cell: ({ place }) => place },
            {
              key: 'share',
              heading: t('measuring.depths.share', {}),
              unit: '%',
              number: true,
              cell: ({ share }) => t('measuring.depths.percent', { value: share }),
            },
            {
              key: 'depth',
              heading: t('measuring.depths.depth', {}),
              unit: f.unit('length', unit),
              number: true,
              cell: ({ depthM }) => depth(depthM),
            },
          ]}
          rows={sheet.points}
          rowKey={({ place }) => String(place)}
        />
        <DataTable
          caption={t('measuring.depths.lines', {})}
          columns={[
            {
              key: 'line',
              heading: t('measuring.depths.lines', {}),
              cell: ({ line }) => t('measuring.depths.line', { n: line, of: { shape } }),
            },
            {
              key: 'port',
              heading: t('measuring.depths.port', { of: { shape } }),
              unit: shape === 'round' ? '' : f.unit('length', unit),
              number: true,
              cell: ({ value }) => port(value),
            },
          ]}
          rows={ports}
          rowKey={({ line }) => String(line)}
        />
      </div>
    </Dialog>
  )
}

function sizeText({ section }: Duct, length: (si: number) => string): string {
  return section.shape === 'round' ? `⌀ ${length(section.diameter.si)}` : `${length(section.width.si)} × ${length(section.height.si)}`
}
