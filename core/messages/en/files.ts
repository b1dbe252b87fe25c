import type { ErrorKind } from '#core/api/errors.ts'
import type { Formatter } from '#core/units/formatter.ts'

const BACKUP_HINDERED: { readonly [K in ErrorKind]?: string } = {
  disk_full: 'the disk is full',
  read_only: 'nothing may be written beside the project',
  already_exists: 'a file is where the folder of backups should be',
  locked: 'another program is holding the files',
  not_found: 'the folder of the project is not there any more',
}

/** Sentences of the project file: what happened, and what to do. Names are file names as the user knows them. */
export const files = {
  'file.missing': (p: { name: string }) =>
    `There is no file ${p.name} at this place any more. It may have been moved or renamed: choose it again where it is now.`,
  'file.folder': (p: { name: string }) => `${p.name} is a folder, not a project file. Choose the project file inside it.`,
  'file.empty': (p: { name: string }) =>
    `${p.name} is empty (0 bytes), so there is no project in it. An unfinished copy or download leaves such files: fetch it again from where it came, or open a backup.`,
  'file.not_a_project': (p: { name: string }) =>
    `${p.name} is not a Facegrid project file, or its beginning was destroyed. Nothing was changed. Choose another file, or open a backup of this one.`,
  'file.newer': (p: { name: string; fileStep: number; knownStep: number }) =>
    `${p.name} was written by a newer Facegrid (file step ${p.fileStep}, this program knows ${p.knownStep}). Nothing was changed. Update the program, then open it again.`,
  'file.damaged': (p: { name: string; detail: string }) =>
    `${p.name} is damaged (${p.detail}). Nothing was changed. Keep this file as it is, and open the newest copy in the folder of backups beside it.`,
  'file.exists': (p: { name: string }) => `A file ${p.name} is there already, and it is never overwritten. Choose another name.`,
  'file.name_ends_in_space': (p: { name: string }) => `The name ${p.name} ends in a space. Choose a name without one.`,
  'file.name_too_long': (p: { name: string }) =>
    `The name that begins with ${p.name} is too long for this disk. Choose a shorter one: up to 100 letters are safe everywhere.`,
  'file.folder_missing': (p: { name: string }) => `The folder for ${p.name} does not exist. Choose a folder that exists.`,
  'file.same_file': (p: { name: string }) => `${p.name} is the project that is open now. Choose another name for the copy.`,
  'file.folder_not_writable': (p: { name: string }) =>
    `Nothing may be written in the folder of ${p.name}. Choose a folder that you may write in, or ask for the right to write there.`,
  'file.not_readable': (p: { name: string }) =>
    `You are not allowed to read ${p.name}. Ask its owner for the right to read it, or choose another file.`,
  'file.locked': (p: { name: string; who: string; where: string; since: string }, f: Formatter) =>
    `${p.name} is open for writing elsewhere: by ${p.who} on ${p.where}, since ${f.dateTime(p.since)}. Close it there, or open it here for reading only.`,
  'file.locked_unknown': (p: { name: string }) =>
    `${p.name} is open for writing elsewhere. Close it there, or open it here for reading only.`,
  'file.open_here': (p: { name: string }) => `${p.name} is open in this program already. Go to the window that shows it.`,
  'file.held': (p: { name: string }) =>
    `${p.name} is the project that is open now, or belongs to it while it is open, so it is not read here. Choose another file.`,
  'file.busy': (p: { name: string }) =>
    `Another program is holding ${p.name} at this moment (a file syncer or a backup, perhaps). Wait for it to finish, then try again.`,
  'file.read_only_asked': (_p: Record<never, never>) => 'This project was opened for reading only.',
  'file.read_only_file': (p: { name: string }) =>
    `${p.name} is write-protected, so it is open for reading only. Remove the protection, or save a copy and work in that.`,
  'file.read_only_folder': (p: { name: string }) =>
    `Nothing may be written in the folder of ${p.name}, so it is open for reading only. Save a copy elsewhere to work in it.`,
  'file.read_only_linked': (p: { name: string }) =>
    `${p.name} has a second name on this disk (a hard link). Writing through two names can destroy it, so it is open for reading only. Save a copy and work in that.`,
  'file.read_only_backup': (p: { name: string }) =>
    `${p.name} is an automatic backup. Backups are thinned out in time, so it is open for reading only. To work in it, save a copy in another folder and open that.`,
  'file.left_over_log': (p: { name: string }) =>
    `The program ended unexpectedly while ${p.name} was open, and the last readings are still in the file beside it (${p.name}-wal or -journal). Nothing may be written in this folder, so they cannot be put back. Copy all files of that name into a folder that you may write in, and open the project there.`,
  'file.older_in_memory': (p: { fileStep: number; knownStep: number }) =>
    `This file was written by an older Facegrid (file step ${p.fileStep}, now ${p.knownStep}). It is shown brought up to date; the file itself stays as it is.`,
  'file.write_protected': (p: { name: string }) =>
    `${p.name} can no longer be written: the file or its disk became write-protected. The last change was not saved, everything before it is. Remove the protection and open the project again.`,
  'file.disk_full': (p: { name: string }) =>
    `The disk is full, so the last change to ${p.name} was not saved. Everything before it is safe. Free some space, then repeat the change.`,
  'file.write_refused': (p: { name: string }) =>
    `The system refused to write the last change to ${p.name}; most often the disk is full or the space you may use is used up. Everything before it is safe. Free some space or check the disk, then repeat the change.`,
  'file.disk_error': (p: { name: string; cause: string }) =>
    `The disk reported an error with ${p.name} (${p.cause}). The last change was not saved. Check the disk or the network connection, then open the project again.`,
  'file.recovered': (_p: Record<never, never>) =>
    'This project was not closed properly last time. Everything that was shown as saved is in place.',
  'file.log_missing': (p: { name: string }) =>
    `${p.name} was copied while it was open, or was parted from the file ${p.name}-wal beside it, so its last changes may be missing. Compare it with the project it comes from; to copy a project, close it first or use Save a copy.`,
  'file.taken_away': (p: { name: string }) =>
    `${p.name} was moved, renamed, deleted or replaced while it is open, so nothing more is saved in it. Nothing that was shown as saved is lost yet. Put it back under its name in its folder and repeat the change, or save a copy now and go on in that.`,
  'file.was_taken_away': (p: { name: string; copy: string | null }) =>
    p.copy === null
      ? `${p.name} was moved, renamed, deleted or replaced while it was open, and no copy could be kept in its folder. Look for it under its new name, or open the newest backup.`
      : `${p.name} was moved, renamed, deleted or replaced while it was open. Everything that was shown as saved is kept in ${p.copy} in the same folder: go on in that.`,
  'file.migrated': (p: { fromStep: number; toStep: number; copy: string }) =>
    `This project was brought up to date (file step ${p.fromStep} to ${p.toStep}). A copy of how it was before is kept: ${p.copy}.`,
  'file.network': (_p: Record<never, never>) =>
    'This project lies on a network drive: saving is slower there, and nobody else can read it meanwhile. For measuring, work on a copy on this computer.',
  'file.backup_failed': (p: { kind: ErrorKind }) =>
    `No automatic backup could be made: ${BACKUP_HINDERED[p.kind] ?? 'the disk refused it'}. Your work is saved in the project itself. Save a copy elsewhere, and free some space or allow writing beside the project.`,
  'file.found_damaged': (p: { name: string; detail: string }) =>
    `${p.name} is damaged on the disk (${p.detail}). That was found while it was open, so no more is written into it. Keep this file as it is, and go on in the newest copy out of the folder of backups beside it.`,
}
