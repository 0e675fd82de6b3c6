import { PassThrough, Readable } from 'node:stream'
import { text } from 'node:stream/consumers'
import { expect, it } from 'vitest'
import { BadLine, writeDifferences } from './differences'

/** What is written for an input, and the message it stopped with. */
async function answer(input: string): Promise<{ written: string; problem: string }> {
  const out = new PassThrough()
  const written = text(out)
  const problem = await writeDifferences(Readable.from([input]), out).then(() => '', (err: unknown) => {
    if (err instanceof BadLine) return err.message
    throw err
  })
  out.end()
  return { written: await written, problem }
}

it.each([
  ['two numbers of a colour', '50,1 50,2,3'],
  ['four numbers of a colour', '50,1,2,3 50,2,3'],
  ['one colour', '50,1,2'],
  ['three colours', '50,1,2 50,1,2 50,1,2'],
  ['a word', 'red 50,2,3'],
  ['a missing number', '50,,3 50,2,3'],
  ['a number that is no decimal', '0x10,1,2 50,2,3'],
  ['a number that is no value of CIELAB', '1e300,1,2 50,2,3'],
])('stops at a line with %s, when those before are written', async (_, bad) => {
  const { written, problem } = await answer(`50,2.5,0 50,0,-2.5\n${bad}\n50,0,0 50,0,0\n`)
  expect(written).toBe('4.306482095827\n')
  expect(problem).toMatch(/^line 2 is no pair of colours: ".*"\. Give L,a,b L,a,b/)
  expect(problem).toContain(bad)
})

it.each([
  ['lines end as on Windows', '50,2.5,0 50,0,-2.5\r\n50,0,0 50,0,0\r\n'],
  ['the last line does not end', '50,2.5,0 50,0,-2.5\n50,0,0 50,0,0'],
  ['lines are empty', '50,2.5,0 50,0,-2.5\n\n50,0,0 50,0,0\n\n'],
  ['there is more than a space', ' 50,2.5,0\t50,0,-2.5 \n50,0,0   50,0,0\n'],
  ['numbers are written in other ways', '5e1,+2.50,0. 50.0,-0,-2.5\n50,.0,0 50,0,0\n'],
])('answers as usual where %s', async (_, input) => {
  expect(await answer(input)).toEqual({ written: '4.306482095827\n0.000000000000\n', problem: '' })
})

it('counts empty lines when it names one', async () => {
  expect((await answer('\n\nnothing\n')).problem).toContain('line 3')
})

it('waits where what it writes is not taken', async () => {
  const lines = 5000
  const { written } = await answer('50,2.5,0 50,0,-2.5\n'.repeat(lines))
  expect(written).toBe('4.306482095827\n'.repeat(lines))
})
