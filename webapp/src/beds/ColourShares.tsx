// How many plants are of each class, by season in the ground, and which left their class.

import type { Farm } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { Head as Flower } from '../ui/Head'
import { href } from '../ui/route'
import { inHundred } from './ages_sentence'
import { type Left, type Leaving, type ShareRow, type Shares } from './colour_shares'
import { classSwatch, classText } from './colour_words'
import { TableBox } from './TableBox'
import { Cell, Head } from './TableCells'

interface SharesProps {
  readonly farm: Farm
  readonly shares: Shares
}

export function ColourShares({ farm, shares }: SharesProps) {
  return (
    <>
      <ul class="share-bars" aria-hidden="true">
        {shares.rows.map((row) => (
          <li key={keyOf(row)}>
            <Flower swatch={row.kind === 'class' ? classSwatch(farm.colours.get(row.colour!)) : ''} size={26} />
            <span class="share-name">{rowName(farm, row)}</span>
            <span class={row.kind === 'class' ? 'share-bar' : 'share-bar open'} style={{ width: `${(46 * row.n) / Math.max(1, shares.rows[0]?.n ?? 1)}%` }} />
            <b>{count(row.n)}</b>
          </li>
        ))}
      </ul>
      <TableBox caption={t('colours.shares.caption')} beside={3}>
        <thead role="rowgroup">
          <tr role="row">
            <Head>{t('colours.shares.class')}</Head><Head>{t('colours.shares.n')}</Head><Head>{t('colours.shares.hundred')}</Head><Head>{t('colours.shares.measured')}</Head>
            {shares.ages.map((age) => <Head key={age} under>{ageName(age)}</Head>)}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {shares.rows.map((row) => (
            <tr key={keyOf(row)} role="row">
              <Cell>{rowName(farm, row)}</Cell><Cell>{count(row.n)}</Cell><Cell>{inHundred(row.n / shares.n)}</Cell><Cell>{count(row.measured)}</Cell>
              {shares.ages.map((age) => <Cell key={age} under={ageName(age)}>{count(row.byAge.get(age) ?? 0)}</Cell>)}
            </tr>
          ))}
        </tbody>
      </TableBox>
    </>
  )
}

function ageName(age: number): string {
  return age === 0 ? t('colours.shares.age.unknown') : t('colours.shares.age', { age })
}

function keyOf({ kind, colour }: ShareRow): string {
  return `${kind} ${colour ?? ''}`
}

function rowName(farm: Farm, { kind, colour }: ShareRow): string {
  if (kind !== 'class') return t(`colours.shares.${kind}`)
  return (colour === undefined ? undefined : farm.colours.get(colour)?.name) ?? t('colour.not_here')
}

export function sharesHint(farm: Farm, { rows, n }: Shares): string | undefined {
  const most = rows.find(({ kind }) => kind === 'class')
  return most && t('colours.shares.hint', { name: rowName(farm, most), n: inHundred(most.n / n) })
}

export function ColourLeft({ farm, leaving: { measured, byEye, between } }: { readonly farm: Farm; readonly leaving: Leaving }) {
  return (
    <>
      {measured.length === 0 && <p>{t('colours.left.none')}</p>}
      <LeftRows farm={farm} left={measured} />
      {between > 0 && <p class="small">{t('colours.left.between', { n: between })}</p>}
      {byEye.length > 0 && (
        <>
          <h3>{t('colours.left.eye', { n: byEye.length })}</h3>
          <p class="small">{t('colours.left.eye.why')}</p>
          <LeftRows farm={farm} left={byEye} />
        </>
      )}
    </>
  )
}

function LeftRows({ farm, left }: { readonly farm: Farm; readonly left: readonly Left[] }) {
  if (left.length === 0) return null
  return (
    <ol class="rows colour-rows">
      {left.map(({ plant, from, to }) => (
        <li key={plant.id}>
          <a class="line plain" href={href('beds', 'plant', plant.id)}>
            <span><b>{plant.code}</b><span class="block">{t('colours.left.from', { from: classText(farm, from), season: String(from.season), to: classText(farm, to) })}</span></span>
          </a>
        </li>
      ))}
    </ol>
  )
}
