import type { ImportLook } from '#core/api/imports.ts'
import { whereHeadStands } from '#core/imports/head.ts'
import type { ImportMapping } from '#core/model/import-mapping.ts'
import { lookAt } from '../../import/look.ts'
import type { Session } from '../session.ts'

/** A file's first rows, how it is most likely read, and which mappings of the project were made for such a file. */
export function lookAtFile(session: Session, file: string, delimiter: ImportMapping['delimiter'] | null): ImportLook {
  const look = lookAt(file, delimiter)
  const fitting = session.stores.entities.list('import_mapping').filter(({ entity }) => fits(entity.body, look))
  return { ...look, fitting: fitting.map(({ entity }) => entity.id) }
}

function fits(mapping: ImportMapping, { rows, proposed }: Pick<ImportLook, 'rows' | 'proposed'>): boolean {
  if (mapping.headerRow === null) return proposed.headerRow === null && mapping.delimiter === proposed.delimiter
  return mapping.header.length > 0 && whereHeadStands(rows, mapping.header) !== null
}
