import type { z } from 'zod'
import type { Found } from '#core/api/trail.ts'

/** The address of the screen where a found thing is seen best. */
export function addressOf(found: Pick<z.infer<typeof Found>, 'kind' | 'id' | 'parentId'>): string {
  switch (found.kind) {
    case 'room':
      return `/room/${found.id}`
    case 'zone':
    case 'terminal':
      return found.parentId ? `/room/${found.parentId}?select=${found.id}` : '/site'
    case 'filter_element':
      return found.parentId ? `/history/${found.parentId}` : '/site'
    case 'run':
      return `/run/${found.id}`
    case 'certification':
      return `/certification/${found.id}`
    case 'instrument':
      return `/instruments/${found.id}`
    case 'calibration':
      return found.parentId ? `/instruments/${found.parentId}` : '/instruments'
    case 'criteria_set':
      return `/criteria/${found.id}`
    case 'import_mapping':
      return '/import'
    case 'person':
    case 'project':
      return '/project'
    case 'facility':
    case 'door':
    case 'air_system':
      return '/site'
  }
}
