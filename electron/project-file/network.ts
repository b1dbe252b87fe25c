import { statfsSync } from 'node:fs'
import { sep } from 'node:path'

/** The kind of file system under a path, as `statfs` numbers it. Handed in, so that tests need no network drive. */
export type FileSystemType = (folder: string) => number

// File system magic numbers of Linux (linux/magic.h and the kernel's fs folders) that carry files over a network, or may.
const NETWORK_TYPES = new Set([
  0x6969, // NFS
  0x517b, // SMB
  0xff534d42, // CIFS
  0xfe534d42, // SMB 2 and later
  0x5346414f, // AFS
  0x6b414653, // kernel AFS
  0x73757245, // Coda
  0x01021997, // 9P
  0x00c36400, // Ceph
  0x65735546, // FUSE: a remote mount as often as a local one
  0x786f4256, // folders shared with a virtual machine
  0x01161970, // GFS2
  0x7461636f, // OCFS2
  0x0bd00bd3, // Lustre
  0x47504653, // GPFS
  0x564c, // NCP
])

export const fileSystemType: FileSystemType = (folder) => statfsSync(folder).type

/**
 * Whether a real path (links and mapped drives resolved) may lie on a network drive. In doubt yes: that only costs speed, while the
 * write-ahead log on a network drive can cost the file. Windows is told by the UNC form; macOS mounts drives under /Volumes.
 */
export function mayBeNetwork(folder: string, platform: NodeJS.Platform, typeOf: FileSystemType = fileSystemType): boolean {
  if (folder.startsWith('\\\\')) return !folder.startsWith('\\\\?\\') || folder.startsWith('\\\\?\\UNC\\')
  if (platform === 'win32') return false
  if (platform === 'darwin') return folder === '/Volumes' || folder.startsWith(`/Volumes${sep}`)
  // Some kernels hand the number out sign-extended.
  return NETWORK_TYPES.has(typeOf(folder) >>> 0)
}
