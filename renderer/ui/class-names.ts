/** Joins the class names that apply. */
export function joined(...names: (string | false | null | undefined)[]): string {
  return names.filter(Boolean).join(' ')
}
