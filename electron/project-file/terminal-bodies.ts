type Fields = Readonly<Record<string, unknown>>

const TAG = ',"tag":'

/** What stands before the tag, as fields; null where the text was not cut between two fields of the body itself. */
function fieldsOf(head: string): Fields | null {
  try {
    // Half an object, closed: an object, or no JSON at all.
    return JSON.parse(`${head}}`) as Fields
  } catch {
    return null
  }
}

/**
 * Reads stored bodies of terminals. Filters of one kind mostly follow each other, and in the canonical order of fields they are alike up to their
 * tag: that part is then read once, and what is in it is the same object in all of them. Any other text is read whole.
 */
export function terminalBodies(): (text: string) => unknown {
  let alike: string | null = null
  let shared: Fields | null = null
  return (text) => {
    if (alike !== null && text.startsWith(alike)) {
      const cut = alike.length - TAG.length
      shared ??= fieldsOf(text.slice(0, cut))
      if (shared) return { ...shared, ...JSON.parse(`{${text.slice(cut + 1)}`) }
    }
    const cut = text.indexOf(TAG)
    alike = cut < 0 ? null : text.slice(0, cut + TAG.length)
    shared = null
    return JSON.parse(text)
  }
}
