import { message } from '#core/messages/say.ts'
import { ductTraverse } from '#core/methods/airflow/duct-layout.ts'
import type { Formatter } from '#core/units/formatter.ts'
import type { Client } from './run.ts'
import { sentences, type Told } from './told.ts'

/** Where a traverse of each duct section stands, by its rule and size: lines or diameters, and how deep the probe goes in at every point. */
export async function traversesInquiry(client: Client, { room }: { readonly room: string | null }, f: Formatter): Promise<Told> {
  const rooms = (await client.entities.list({ kinds: ['room'], within: null })).flatMap((entity) =>
    entity.kind === 'room' ? [entity] : [],
  )
  const words = sentences(f)
  const json: unknown[] = []
  const lines: string[] = []
  for (const { id, body } of rooms.filter((one) => room === null || one.body.number === room)) {
    for (const terminal of await client.entities.list({ kinds: ['terminal'], within: id })) {
      if (terminal.kind !== 'terminal' || !terminal.body.duct) continue
      const { tag, duct } = terminal.body
      const layout = ductTraverse(duct)
      const { rule, section } = duct
      const { shape } = section
      if ('problem' in layout) {
        json.push({ room: body.number, terminal: tag, rule, problem: layout.problem })
        lines.push(words(message('cli.traverse.none', { tag, problem: layout.problem })))
        continue
      }
      const { areaM2, ports, insertionsM, points } = layout
      const standing = shape === 'round' ? { diametersDegreesClockwiseFromTop: ports } : { linesFromLeftM: ports }
      json.push({ room: body.number, terminal: tag, rule, shape, areaM2, ...standing, insertionsM, points })
      lines.push(words(message('cli.traverse', { tag, rule, areaM2, of: { shape, lines: layout.lines, points: layout.pointsPerLine } })))
      for (const port of ports) lines.push(words(message('cli.traverse.port', { port, insertionsM, of: { shape } })))
    }
  }
  return { json, lines: lines.length === 0 ? [words(message('cli.traverse.no_duct', {}))] : lines }
}
