// A process of its own that opens a project file and holds it until its input ends (or it is killed). Says "open" or the refusal's code.
import { openProjectFile } from '#electron/project-file/open.ts'
import { ProblemError } from '#electron/project-file/problem.ts'
import { OPTIONS } from './site.ts'

const [path = '', who = 'someone', mode = 'write'] = process.argv.slice(2)
try {
  const file = openProjectFile(path, { ...OPTIONS, who, readOnly: mode === 'read' })
  const readings = Number(file.db.prepare('SELECT count(*) FROM reading').pluck().get())
  console.log(file.readOnly ? `open for reading, ${readings} readings` : 'open')
  process.stdin.resume()
  process.stdin.on('end', () => {
    file.close()
    process.exit(0)
  })
} catch (error) {
  console.log(error instanceof ProblemError ? error.failure.sentence.code : String(error))
}
