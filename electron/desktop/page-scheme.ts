import { protocol } from 'electron'
import { CONTENT_SECURITY_POLICY, readPageFiles } from '../page-files.ts'

export const PAGE_ORIGIN = 'facegrid://page'

/** Has to run before the app is ready. The page gets an origin of its own instead of the file system's. */
export function registerPageScheme(): void {
  protocol.registerSchemesAsPrivileged([{ scheme: 'facegrid', privileges: { standard: true, secure: true, supportFetchAPI: true } }])
}

/** Serves exactly the built page's files, with the same policy as the browser host. */
export function servePage(folder: string): void {
  const files = readPageFiles(folder)
  protocol.handle('facegrid', (request) => {
    const url = new URL(request.url)
    const file = url.host === 'page' && request.method === 'GET' ? files.get(url.pathname) : undefined
    if (!file) return new Response('There is no such file.', { status: 404 })
    return new Response(file.body, {
      headers: {
        'Content-Type': file.mediaType,
        'Content-Security-Policy': CONTENT_SECURITY_POLICY,
        'X-Content-Type-Options': 'nosniff',
      },
    })
  })
}
