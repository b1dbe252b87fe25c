/** The few words that the system shows for us before a page can render the catalogue. */
export const ENGLISH_DIALOGS = {
  projectFiles: 'Facegrid projects',
  exchangeFiles: 'Facegrid exchange files',
  readingsFiles: 'Delimited text files',
  allFiles: 'All files',
  file: 'File',
  edit: 'Edit',
  view: 'View',
  help: 'Help',
  newProject: 'New project…',
  openProject: 'Open project…',
  saveCopy: 'Save a copy…',
  closeProject: 'Close project',
  undo: 'Undo',
  redo: 'Redo',
  find: 'Go to…',
  howTo: 'Keys and cautions',
} as const
