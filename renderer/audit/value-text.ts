import { useCallback } from 'react'
import { Entered, type Uuid, Uuid as UuidSchema } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import { useSay } from '../app/session.tsx'
import { isPlain } from './differences.ts'

/** A value of a body in words: figures as typed, identities by name, lists by their items or their number. */
export function useValueText(names: ReadonlyMap<Uuid, string>): (value: unknown) => string {
  const t = useSay()
  return useCallback(
    (value) => {
      const told = (item: unknown): string => {
        if (item === null || item === undefined || item === '') return t('audit.none', {})
        if (typeof item === 'boolean') return item ? t('audit.yes', {}) : t('audit.no', {})
        if (typeof item === 'string')
          return UuidSchema.safeParse(item).success ? (names.get(item) ?? item.slice(0, 8)) : item.replaceAll('_', ' ')
        if (typeof item === 'number') return String(item)
        const entered = Entered.safeParse(item)
        if (entered.success) return enteredText(entered.data)
        if (Array.isArray(item)) {
          return item.length > 0 && item.length <= 6 && item.every((part) => !isPlain(part))
            ? item.map(told).join(', ')
            : t('audit.value.items', { count: item.length })
        }
        if (isPlain(item)) {
          if (typeof item.x === 'number' && typeof item.y === 'number' && Object.keys(item).length === 2) {
            return t('audit.value.point', { x: item.x, y: item.y })
          }
          return Object.entries(item)
            .map(([name, part]) => `${t('audit.field', { path: name })} ${told(part)}`)
            .join(', ')
        }
        return String(item)
      }
      return told(value)
    },
    [t, names],
  )
}
