// The command that measures colours, with the code of the app. It writes nothing but results to its output.

import type { KnownCard } from '../src/colourcard/measurement'
import { BadLine, writeDifferences } from './differences'
import { BadCards, cardsIn } from './known'
import { measureFiles } from './photos'

const usage = `measure: give photos (JPEG, PNG) of a head beside a colour card:
  photo.jpg …                     each is answered by a line of JSON
  --cards cards.json photo.jpg …  with what is known of batches of cards: {"6GRATJ": {"patches": [[L, a, b], …], "se": 0.5}}
or give --difference, and pairs of colours on standard input, a line each:
  L,a,b L,a,b
(CIELAB, numbers with a point). Each line is answered by their difference, CIEDE2000.
`

// Whoever reads may have seen enough, as head does.
process.stdout.on('error', (err: NodeJS.ErrnoException) => {
  if (err.code !== 'EPIPE') throw err
  process.exit(0)
})

process.exitCode = await answer(process.argv.slice(2))

/** The exit status: 0 where all went well, 1 where what was given is wrong, 2 where it is not known what to do. */
async function answer(args: readonly string[]): Promise<number> {
  if (args.length === 1 && args[0] === '--difference') return differences()
  const [cards, files] = args[0] === '--cards' ? [args[1], args.slice(2)] : [undefined, args]
  // After --, which npm leaves out where it is asked to, a name may begin with a dash.
  const named = files[0] === '--' ? files.slice(1) : files
  if (named.length === 0 || (args[0] === '--cards' && cards === undefined) || (files === named && files.some((file) => file.startsWith('-')))) {
    process.stderr.write(usage)
    return 2
  }
  return photos(named, cards)
}

async function differences(): Promise<number> {
  try {
    await writeDifferences(process.stdin, process.stdout)
    return 0
  } catch (err) {
    if (!(err instanceof BadLine)) throw err
    process.stderr.write(`measure: ${err.message}\n`)
    return 1
  }
}

async function photos(files: readonly string[], cards: string | undefined): Promise<number> {
  let known: ReadonlyMap<string, KnownCard>
  try {
    known = cards === undefined ? new Map() : await cardsIn(cards)
  } catch (err) {
    if (!(err instanceof BadCards)) throw err
    process.stderr.write(`measure: ${err.message}\n`)
    return 1
  }
  const all = await measureFiles(files, known, {
    line: (line) => process.stdout.write(`${JSON.stringify(line)}\n`),
    complaint: (sentence) => process.stderr.write(`measure: ${sentence}\n`),
  })
  return all ? 0 : 1
}
