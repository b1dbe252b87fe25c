const PLAIN: { readonly [code: string]: string } = {
  entity: 'entry',
  filter_element: 'filter element',
  criteria_set: 'criteria set',
}

/** A kind or code of the model as people read it: "filter element" for filter_element. */
export function wordsOf(code: string): string {
  return PLAIN[code] ?? code.replaceAll('_', ' ').replaceAll('.', ' ')
}

/** A text that a person wrote, as a sentence of its own between others: with a full stop unless it ends like a sentence already. */
export function ended(text: string): string {
  return /[.!?\u2026]$/.test(text) ? text : `${text}.`
}
