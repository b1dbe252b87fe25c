/** Failures: each sentence says what happened and what to do. */
export const errors = {
  'error.internal': (p: { cause: string }) =>
    `Something went wrong inside the program (${p.cause}). Nothing was changed. Please try again.`,
  'error.not_found': (p: { what: string }) => `This ${p.what} is not in the project. It may have been removed in another window.`,
  'error.invalid_input': (p: { detail: string }) => `This input does not fit: ${p.detail}.`,
  'error.conflict': (p: { what: string }) => `This ${p.what} was changed meanwhile. Look at the current state and repeat your change.`,
  'error.no_project': (_p: Record<never, never>) => 'No project is open. Open or create one first.',
  'error.read_only': (_p: Record<never, never>) => 'This project is open for reading only, so nothing can be changed here.',
}
