/** The libraries need Node 22 or newer: on an older one the database module would end the process without a word. */
export function assertNodeVersion(): void {
  const major = Number(process.versions.node.split('.')[0])
  if (major < 22) {
    process.stderr.write(
      `Facegrid needs Node 22 or newer and this is ${process.version}. Start it through npm (npm start, npm run facegrid), which finds the right one.\n`,
    )
    process.exit(2)
  }
}
