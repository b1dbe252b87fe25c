/** What the hosts say about folders, dialogs and menus. */
export const hosts = {
  'host.outside_folders': (p: { path: string }) =>
    `The program may not use ${p.path}. It works inside the folders it was started with; start it with --folder to add one.`,
  'host.not_a_path': (p: { path: string }) => `${p.path} is not a full path of a file or folder.`,
  'host.folder_missing': (p: { path: string }) => `The folder ${p.path} is not there any more. Choose another one.`,
}
