import { createContext, type ReactNode, use, useCallback, useMemo } from 'react'
import { type Language, type MessageCode, type ParamsOf, say } from '#core/messages/say.ts'
import type { Sentence } from '#core/model/results.ts'
import { createFormatter } from '#core/units/format.ts'
import type { DisplayUnits, Formatter } from '#core/units/formatter.ts'
import { failureOf } from './failure.ts'

const METRIC: DisplayUnits = { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }

type Words = { language: Language; formatter: Formatter; locale: string }

const WordsContext = createContext<Words | null>(null)

type WordsProviderProps = { language: Language; display: DisplayUnits | null; timeZone: string | null; children: ReactNode }

/** Language, units and time zone of everything below it. Without a project: metric units and the computer's own zone. */
export function WordsProvider({ language, display, timeZone, children }: WordsProviderProps) {
  const words = useMemo(() => {
    const locale = navigator.language || 'en'
    const zone = timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone
    return { language, locale, formatter: createFormatter(display ?? METRIC, locale, zone) }
  }, [language, display, timeZone])
  return <WordsContext value={words}>{children}</WordsContext>
}

/** What lies below belongs to this computer and not to the site, as files and their times do: its own time zone. */
export function OwnZone({ children }: { children: ReactNode }) {
  const { language, locale } = useWords()
  const words = useMemo(
    () => ({ language, locale, formatter: createFormatter(METRIC, locale, Intl.DateTimeFormat().resolvedOptions().timeZone) }),
    [language, locale],
  )
  return <WordsContext value={words}>{children}</WordsContext>
}

function useWords(): Words {
  const words = use(WordsContext)
  if (!words) throw new Error('No WordsProvider above this component')
  return words
}

export type Say = <C extends MessageCode>(code: C, params: ParamsOf<C>) => string

/** `t(code, params)`: a sentence of the catalogue in the reader's language and units. */
export function useSay(): Say {
  const { language, formatter } = useWords()
  // A message's parameters are a plain object type; the catalogue's own signature was checked at the call.
  return useCallback((code, params) => say(language, formatter, code, params as Record<string, unknown>), [language, formatter])
}

/** Renders a sentence that arrived as data: a reason, a notice, a failure, a problem of a field. */
export function useSentence(): (sentence: { readonly code: string; readonly params: object }) => string {
  const { language, formatter } = useWords()
  return useCallback((sentence) => say(language, formatter, sentence.code, sentence.params as Sentence['params']), [language, formatter])
}

export function useFormatter(): Formatter {
  return useWords().formatter
}

export function useLocale(): string {
  return useWords().locale
}

/** The sentence of whatever a call threw. */
export function useFailureText(): (error: unknown) => string {
  const sentence = useSentence()
  return useCallback((error) => sentence(failureOf(error).sentence), [sentence])
}
