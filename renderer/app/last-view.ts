import { Uuid } from '#core/model/values.ts'

export type LastView = { readonly address: string | null; readonly certificationId: Uuid | null }

const SEPARATOR = '#'

/** Where the window stands, as the text that is remembered with the file: the page's address and the certification shown. */
export function writeView(view: { address: string; certificationId: Uuid | null }): string {
  return view.certificationId ? `${view.address}${SEPARATOR}${view.certificationId}` : view.address
}

/** Reads it back. Anything that is not an address within the page counts as nothing. */
export function readView(text: string | null): LastView {
  const [address = '', certification = ''] = (text ?? '').split(SEPARATOR)
  const id = Uuid.safeParse(certification)
  return {
    address: address.startsWith('/') && address !== '/' ? address : null,
    certificationId: id.success ? id.data : null,
  }
}
