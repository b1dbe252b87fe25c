import path from 'node:path'

/** The project file among a start's arguments, as the file association passes it. */
export function projectPathIn(argv: readonly string[]): string | null {
  const found = argv.slice(1).find((argument) => path.extname(argument).toLowerCase() === '.facegrid')
  return found ? path.resolve(found) : null
}

/** Files the system asks to open (file association, second start), kept until there is a window to show them in. */
export class OpenRequests {
  #waiting: string | null
  #deliver: ((file: string | null) => void) | null = null

  constructor(first: string | null) {
    this.#waiting = first
  }

  /** null only brings the window to the front */
  ask(file: string | null): void {
    if (this.#deliver) this.#deliver(file)
    else if (file) this.#waiting = file
  }

  deliverTo(deliver: (file: string | null) => void): void {
    this.#deliver = deliver
    if (this.#waiting) deliver(this.#waiting)
    this.#waiting = null
  }
}
