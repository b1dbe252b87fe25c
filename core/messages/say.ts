import type { Formatter } from '#core/units/formatter.ts'
import { audit } from './en/audit.ts'
import { budgets } from './en/budgets.ts'
import { cautions } from './en/cautions.ts'
import { check } from './en/check.ts'
import { commandLine } from './en/command-line.ts'
import { errors } from './en/errors.ts'
import { files } from './en/files.ts'
import { hosts } from './en/hosts.ts'
import { imports } from './en/imports.ts'
import { misfits } from './en/misfits.ts'
import { notices } from './en/notices.ts'
import { questions } from './en/questions.ts'
import { reasons } from './en/reasons.ts'
import { rules } from './en/rules.ts'
import { airSystems as airSystemsScreen } from './en/screens/air-systems.ts'
import { app as appScreen } from './en/screens/app.ts'
import { asLeft as asLeftScreen } from './en/screens/as-left.ts'
import { audit as auditScreen } from './en/screens/audit.ts'
import { balance as balanceScreen } from './en/screens/balance.ts'
import { budgets as budgetsScreen } from './en/screens/budgets.ts'
import { certifications as certificationsScreen } from './en/screens/certifications.ts'
import { compare as compareScreen } from './en/screens/compare.ts'
import { criteria as criteriaScreen } from './en/screens/criteria.ts'
import { criteriaRevisions as criteriaRevisionsScreen } from './en/screens/criteria-revisions.ts'
import { importScreen } from './en/screens/import.ts'
import { instruments as instrumentsScreen } from './en/screens/instruments.ts'
import { map as mapScreen } from './en/screens/map.ts'
import { measuring as measuringScreen } from './en/screens/measuring.ts'
import { plan as planScreen } from './en/screens/plan.ts'
import { planeMap as planeMapScreen } from './en/screens/plane-map.ts'
import { projects as projectsScreen } from './en/screens/projects.ts'
import { readings as readingsScreen } from './en/screens/readings.ts'
import { recalculation as recalculationScreen } from './en/screens/recalculation.ts'
import { site as siteScreen } from './en/screens/site.ts'
import { ways as waysScreen } from './en/screens/ways.ts'
import { whatIf as whatIfScreen } from './en/screens/what-if.ts'
import { units } from './en/units.ts'
import { toPseudo } from './pseudo.ts'

/** English, the first language. Another language is another object that satisfies Catalogue. */
const en = {
  ...errors,
  ...commandLine,
  ...check,
  ...units,
  ...questions,
  ...rules,
  ...files,
  ...hosts,
  ...imports,
  ...reasons,
  ...budgets,
  ...notices,
  ...misfits,
  ...cautions,
  ...audit,
  ...appScreen,
  ...projectsScreen,
  ...siteScreen,
  ...balanceScreen,
  ...whatIfScreen,
  ...airSystemsScreen,
  ...readingsScreen,
  ...waysScreen,
  ...certificationsScreen,
  ...asLeftScreen,
  ...mapScreen,
  ...planeMapScreen,
  ...measuringScreen,
  ...compareScreen,
  ...criteriaScreen,
  ...criteriaRevisionsScreen,
  ...budgetsScreen,
  ...instrumentsScreen,
  ...recalculationScreen,
  ...importScreen,
  ...planScreen,
  ...auditScreen,
}

export type Catalogue = typeof en
export type MessageCode = keyof Catalogue
/** Parameters of one message: SI numbers, texts, plain dates. */
export type ParamsOf<C extends MessageCode> = Parameters<Catalogue[C]>[0]
export type Message<C extends MessageCode = MessageCode> = { [P in C]: { code: P; params: ParamsOf<P> } }[C]

export const LANGUAGES = ['en', 'pseudo'] as const
export type Language = (typeof LANGUAGES)[number]

/** Builds a message; the compiler checks that the parameters fit the code. */
export function message<C extends MessageCode>(code: C, params: ParamsOf<C>): { code: C; params: ParamsOf<C> } {
  return { code, params }
}

/**
 * Renders a message as a sentence of the language, quantities in the formatter's display units.
 * An unknown code (a file of a newer program) is shown as the code itself, never dropped.
 */
export function say(language: Language, formatter: Formatter, code: string, params: Record<string, unknown>): string {
  const template = (en as unknown as Record<string, ((p: never, f: Formatter) => string) | undefined>)[code]
  if (!template) return code
  const sentence = template(params as never, formatter)
  return language === 'pseudo' ? toPseudo(sentence, params) : sentence
}
