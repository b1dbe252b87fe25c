/** The folder of automatic backups beside a project file. */
export const backupFolder = (projectPath: string) => `${projectPath}-backups`

/** Whether a folder of this name holds the automatic backups of a project. */
export const isBackupFolder = (name: string) => name.toLowerCase().endsWith('.facegrid-backups')
