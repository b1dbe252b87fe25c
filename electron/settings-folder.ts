import os from 'node:os'
import path from 'node:path'

/** Where this computer keeps a user's program settings, by each system's own custom. */
export function settingsFolder(): string {
  const home = os.homedir()
  if (process.platform === 'win32') return path.join(process.env.APPDATA ?? path.join(home, 'AppData', 'Roaming'), 'Facegrid')
  if (process.platform === 'darwin') return path.join(home, 'Library', 'Application Support', 'Facegrid')
  return path.join(process.env.XDG_CONFIG_HOME ?? path.join(home, '.config'), 'facegrid')
}
