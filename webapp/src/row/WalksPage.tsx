// The walks through one bed: counting, the stand in spring, colours in bloom by eye and by camera, and how far they have come.

import type { ComponentChildren } from 'preact'
import type { Bed } from '../crop/nouns'
import { t } from '../messages/messages'
import { BedTasks } from '../ui/BedTasks'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { colourRating } from './colour_walk'
import './rated.css'
import { RatedSession } from './rated_session'
import type { Session } from './session'
import { standRating } from './stand_walk'

export function WalksPage({ bed, session }: { readonly bed: Bed; readonly session: Session }) {
  const notebook = useNotebook()
  const count = () => {
    session.open(bed.id)
    go('row')
  }
  return (
    <>
      <PageHead title={bed.name} back={href('row')}><SyncChip /></PageHead>
      <div class="page reading walks">
        <BedTasks bed={bed.id} />
        <button type="button" class="btn walk-kind" onClick={count}>
          <Told name={t('walks.count')} text={t('walks.count.text')} />
        </button>
        {[standRating, colourRating].map(({ name }) => {
          const rated = name === 'stand' ? RatedSession.of(notebook, standRating) : RatedSession.of(notebook, colourRating)
          const order = rated.order(bed.id)
          return (
            <a key={name} class="btn walk-kind" href={href('row', name, bed.id)}>
              <Told name={t(`walks.${name}`)} text={t(`walks.${name}.text`)}>
                {order.length === 0 ? <span class="small">{t('walks.none')}</span> : <Left n={order.filter(({ id }) => !rated.seen(id)).length} />}
              </Told>
            </a>
          )
        })}
        <a class="btn walk-kind" href={href('row', 'measure', bed.id)}>
          <Told name={t('walks.measure')} text={t('walks.measure.text')}><Icon name="camera" /></Told>
        </a>
      </div>
    </>
  )
}

interface ToldProps {
  readonly name: string
  readonly text: string
  readonly children?: ComponentChildren
}

function Told({ name, text, children }: ToldProps) {
  return (
    <>
      <span><b>{name}</b><span class="small block">{text}</span></span>
      <span class="n">{children}</span>
    </>
  )
}

function Left({ n }: { readonly n: number }) {
  return n === 0 ? <Icon name="check" /> : <>{t('row.bed.left', { n })}</>
}
