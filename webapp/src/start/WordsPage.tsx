// Every word that is explained anywhere, in one list; and the first walk to be begun anew.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { terms } from '../ui/WhatIs'
import { FirstWalk } from './first_walk'

export function WordsPage() {
  const walk = FirstWalk.of(useNotebook())
  const begin = () => {
    walk.begin()
    go('start')
  }
  return (
    <>
      <PageHead title={t('help.title')} back={href('start')} />
      <div class="page">
        <p class="say">{t('help.lead')}</p>
        <dl class="words">
          {terms.map((term) => (
            <div key={term}>
              <dt>{t(`help.term.${term}`)}</dt>
              <dd>{t(`help.what.${term}`)}</dd>
            </div>
          ))}
        </dl>
        {walk.steps.length > 0 && <div class="reading"><button type="button" class="btn tall" onClick={begin}>{t('help.again')}</button></div>}
      </div>
    </>
  )
}
