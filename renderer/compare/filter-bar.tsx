import { useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './compare.module.css'
import { EVERY_ROW, type RowFilter } from './row-filter.ts'

type FilterBarProps = { filter: RowFilter; onChange: (filter: RowFilter) => void; shown: number; of: number }

/** Which rows are shown. */
export function FilterBar({ filter, onChange, shown, of }: FilterBarProps) {
  const t = useSay()
  return (
    <search className={styles.filters} aria-label={t('compare.filter.kind', {})}>
      <Segmented
        label={t('compare.filter.kind', {})}
        value={filter.kind}
        choices={[
          { value: 'all', label: t('compare.filter.all', {}) },
          { value: 'room', label: t('compare.filter.rooms', {}) },
          { value: 'filter', label: t('compare.filter.filters', {}) },
        ]}
        onChange={(kind) => onChange({ ...filter, kind })}
      />
      <Select
        label={t('compare.filter.verdict', {})}
        hideLabel
        value={filter.verdict}
        choices={[
          { value: 'any', label: t('compare.filter.verdict.any', {}) },
          { value: 'worse', label: t('compare.filter.verdict.worse', {}) },
          { value: 'better', label: t('compare.filter.verdict.better', {}) },
          { value: 'not_pass', label: t('compare.filter.verdict.not_pass', {}) },
          { value: 'break', label: t('compare.filter.verdict.break', {}) },
        ]}
        onChange={(verdict) => onChange({ ...filter, verdict })}
      />
      <TextField
        label={t('compare.filter.text', {})}
        hideLabel
        type="search"
        placeholder={t('compare.filter.text', {})}
        value={filter.text}
        onChange={(text) => onChange({ ...filter, text })}
      />
      <span className={styles.count} role="status">
        {t('compare.rows', { shown, of })}
      </span>
      {shown < of ? (
        <Button kind="quiet" icon="close" onClick={() => onChange(EVERY_ROW)}>
          {t('compare.filter.clear', {})}
        </Button>
      ) : null}
    </search>
  )
}
