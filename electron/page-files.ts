import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'

/** The same policy in every host: nothing but the bundle's own files, no inline script or style elements, no framing. */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "form-action 'none'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ')

const MEDIA_TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.woff2': 'font/woff2',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
}

export type PageFile = { readonly body: Buffer<ArrayBuffer>; readonly mediaType: string }

/**
 * Reads the built page once. Requests are looked up among exactly these names, so no request can reach any other file,
 * whatever its path looks like.
 */
export function readPageFiles(folder: string): ReadonlyMap<string, PageFile> {
  const files = new Map<string, PageFile>()
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue
    const full = path.join(entry.parentPath, entry.name)
    const name = `/${path.relative(folder, full).split(path.sep).join('/')}`
    const mediaType = MEDIA_TYPES[path.extname(entry.name)]
    if (mediaType) files.set(name, { body: readFileSync(full), mediaType })
  }
  const index = files.get('/index.html')
  if (index) files.set('/', index)
  return files
}
