import { useMemo, useState } from 'react'
import { failureOf } from '../app/failure.ts'
import { useSentence } from '../app/words.tsx'
import { useToast } from '../ui/toast.tsx'

export type FieldProblem = { readonly field: string; readonly code: string; readonly params: object }

export type FormOptions<Form extends object> = {
  /** names the draft, which outlives the screen: half a thought is still there when its writer comes back */
  readonly key: string
  readonly start: Form
  readonly check: (form: Form) => readonly FieldProblem[]
  readonly submit: (form: Form) => Promise<void>
}

export type FormState<Form extends object> = {
  readonly form: Form
  readonly set: (patch: Partial<Form>) => void
  readonly changed: boolean
  readonly busy: boolean
  /** the sentence to show at a field, once saving was tried or the field was found wrong by the engine */
  readonly problem: (field: string) => string | null
  /** how many fields are wrong, once saving was tried */
  readonly problemCount: number
  readonly submit: () => Promise<void>
  readonly revert: () => void
  /** a field that holds text which is no value yet; saving waits for it */
  readonly unreadable: (field: string, isUnreadable: boolean) => void
}

const drafts = new Map<string, object>()

/** A form of one thing: its draft, what is wrong at which field, and saving. Nothing typed is ever lost to an error. */
export function useForm<Form extends object>(options: FormOptions<Form>): FormState<Form> {
  const { key, start, check, submit } = options
  const sentence = useSentence()
  const toast = useToast()
  // The draft was put there under this key by this very form.
  const [draft, setDraft] = useState<Form | null>(() => (drafts.get(key) as Form | undefined) ?? null)
  const [tried, setTried] = useState(false)
  const [busy, setBusy] = useState(false)
  const [refused, setRefused] = useState<FieldProblem | null>(null)
  const [unread, setUnread] = useState<ReadonlySet<string>>(new Set())
  const form = draft ?? start
  const problems = useMemo(() => (tried ? check(form) : []), [tried, check, form])

  const keep = (next: Form | null) => {
    if (next) drafts.set(key, next)
    else drafts.delete(key)
    setDraft(next)
  }
  return {
    form,
    changed: draft !== null && JSON.stringify(draft) !== JSON.stringify(start),
    busy,
    problemCount: problems.length + unread.size,
    set(patch) {
      setRefused(null)
      keep({ ...form, ...patch })
    },
    problem(field) {
      const found = problems.find((one) => one.field === field) ?? (refused?.field === field ? refused : undefined)
      return found ? sentence(found) : null
    },
    unreadable(field, isUnreadable) {
      if (unread.has(field) === isUnreadable) return
      const next = new Set(unread)
      if (isUnreadable) next.add(field)
      else next.delete(field)
      setUnread(next)
    },
    revert() {
      setTried(false)
      setUnread(new Set())
      setRefused(null)
      keep(null)
    },
    async submit() {
      setTried(true)
      if (check(form).length > 0 || unread.size > 0) return
      setBusy(true)
      try {
        await submit(form)
        setTried(false)
        keep(null)
      } catch (error) {
        const failure = failureOf(error)
        const field = failure.field?.replace(/^.*\bbody\./, '') ?? null
        if (field === null) toast.problem(error)
        else {
          setRefused({ field, ...failure.sentence })
          toast.problem(error)
        }
      } finally {
        setBusy(false)
      }
    },
  }
}
