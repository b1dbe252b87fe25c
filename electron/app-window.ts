import open, { apps } from 'open'

/** Opens the address in a browser window without tabs where one is found, else in the system's browser. False when neither works. */
export async function openAppWindow(address: string): Promise<boolean> {
  const hasDisplay = process.platform !== 'linux' || Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY)
  if (!hasDisplay) return false
  const asWindow = [`--app=${address}`]
  const attempts = [
    () => open(address, { app: [apps.chrome, apps.edge, 'chromium'].map((name) => ({ name, arguments: asWindow })) }),
    () => open(address),
  ]
  for (const attempt of attempts) {
    try {
      await attempt()
      return true
    } catch {
      // the next way may be there
    }
  }
  return false
}
