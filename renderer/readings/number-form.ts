/** Digits before and after the decimal sign. Numbers of one stage share a form, so that their decimal signs stand in line and their size is one. */
export type NumberForm = { readonly whole: number; readonly fraction: number }

const NUMBER = /^[-−]?\d*(?:[.,]\d*)?/

/** The digits that a text shows, a sign counted as one; of the first number in it, where a unit was typed as well. */
export function formOf(text: string): NumberForm {
  const [number = ''] = NUMBER.exec(text.trim()) ?? []
  const [whole = '', fraction = ''] = number.split(/[.,]/)
  return { whole: whole.length, fraction: fraction.length }
}

/** The form that all of these numbers find room in. */
export function sharedForm(texts: readonly string[]): NumberForm {
  const forms = texts.map(formOf)
  return {
    whole: Math.max(1, ...forms.map(({ whole }) => whole)),
    fraction: Math.max(0, ...forms.map(({ fraction }) => fraction)),
  }
}

/** A decimal sign is about half as wide as a digit. */
const SIGN = 0.5

/** Room before and after a number, and the width of all, in widths of a digit. */
export type Room = { readonly before: number; readonly after: number; readonly width: number }

const widthOf = ({ whole, fraction }: NumberForm, sign: boolean) => whole + (sign ? SIGN : 0) + fraction
const hasSign = (text: string) => /[.,]/.test(text)

/** Room that puts the decimal sign of a number in line with the others'. */
export function roomFor(text: string, shared: NumberForm): Room {
  const own = formOf(text)
  const missingSign = shared.fraction > 0 && !hasSign(text) ? SIGN : 0
  const whole = Math.max(own.whole, shared.whole)
  const fraction = Math.max(own.fraction, shared.fraction)
  return {
    before: whole - own.whole,
    after: fraction - own.fraction + missingSign,
    width: widthOf({ whole, fraction }, fraction > 0 || hasSign(text)),
  }
}

/** Room for a number that is still being typed: it begins where the longest begins, and nothing shifts as its digits come. */
export function roomForDraft(text: string, shared: NumberForm): Room {
  // Half of what is typed may not be a number yet: its characters count.
  const own = [...text].reduce((sum, character) => sum + (hasSign(character) ? SIGN : 1), 0)
  const width = Math.max(own, widthOf(shared, shared.fraction > 0))
  return { before: 0, after: width - own, width }
}
