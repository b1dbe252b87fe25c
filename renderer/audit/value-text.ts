import { useCallback } from 'react'
import { Entered, type Uuid, Uuid as UuidSchema } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import { isPlain } from './differences.ts'

const MOST_IN_LINE = 6
const MOST_LINES = 24
const SIGNIFICANT = 12
const DATE = /^\d{4}-\d{2}-\d{2}$/
const INSTANT = /^\d{4}-\d{2}-\d{2}T[\d:.]+Z$/

/** A value of a body in words: figures as typed, identities by name, lists by their items, a line each where these are things themselves. */
export function useValueText(names: ReadonlyMap<Uuid, string>): (value: unknown) => string {
  const t = useSay()
  const format = useFormatter()
  return useCallback(
    (value) => {
      const told = (item: unknown): string => {
        if (item === null || item === undefined || item === '') return t('audit.none', {})
        if (typeof item === 'boolean') return item ? t('audit.yes', {}) : t('audit.no', {})
        if (typeof item === 'string') return toldText(item)
        if (typeof item === 'number') return format.significant(item, SIGNIFICANT)
        const entered = Entered.safeParse(item)
        if (entered.success) return enteredText(entered.data)
        if (Array.isArray(item)) {
          if (item.length === 0) return t('audit.none', {})
          const isOfThings = item.some((part) => isPlain(part) && !isPoint(part))
          if (item.length > (isOfThings ? MOST_LINES : MOST_IN_LINE)) return t('audit.value.items', { count: item.length })
          return item.map(told).join(isOfThings ? '\n' : ', ')
        }
        if (isPlain(item)) {
          if (isPoint(item)) return t('audit.value.point', item)
          return Object.entries(item)
            .map(([name, part]) => `${t('audit.field', { path: name })} ${told(part)}`)
            .join(', ')
        }
        return String(item)
      }
      const toldText = (text: string): string => {
        if (UuidSchema.safeParse(text).success) return names.get(text) ?? text.slice(0, 8)
        if (DATE.test(text)) return format.date(text)
        return INSTANT.test(text) ? format.dateTime(text) : text.replaceAll('_', ' ')
      }
      return told(value)
    },
    [t, format, names],
  )
}

function isPoint(item: Record<string, unknown>): item is { x: number; y: number } {
  return typeof item.x === 'number' && typeof item.y === 'number' && Object.keys(item).length === 2
}
