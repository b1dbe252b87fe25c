/** What the hosts say about folders, dialogs and menus. */
export const hosts = {
  'host.outside_folders': (p: { path: string }) =>
    `The program may not use ${p.path}. It works inside the folders it was started with; start it with --folder to add one.`,
  'host.no_such_folder': (p: { path: string }) =>
    `There is no folder ${p.path}. Make it first, or name another one with --folder; the program was not started.`,
  'host.not_a_folder': (p: { path: string }) =>
    `${p.path} is a file. Name the folder that it lies in with --folder; the program was not started.`,
  'host.home_folder': (p: { path: string; cause: string }) =>
    `The folder ${p.path} for project files cannot be made (${p.cause}). Allow writing there, or name other folders with --folder DIR and leave this one out with --no-home.`,
  'host.settings_folder': (p: { path: string; cause: string }) =>
    `Settings cannot be kept in ${p.path} (${p.cause}). Allow writing there, or name another folder with --settings DIR; the program was not started.`,
  'host.bad_port': (p: { text: string }) =>
    `${p.text} is no port. Give a whole number from 1 to 65535, or 0 for any free one; the program was not started.`,
  'host.port_taken': (p: { port: number; cause: string }) =>
    `Port ${p.port} of this computer cannot be used (${p.cause}). End the other program that uses it, or leave --port out; the program was not started.`,
  'host.bad_option': (p: { detail: string }) => `${p.detail} The option --help lists what can be given.`,
  'host.not_a_path': (p: { path: string }) => `${p.path} is not a full path of a file or folder.`,
  'host.folder_missing': (p: { path: string }) => `The folder ${p.path} is not there any more. Choose another one.`,
}
