" Vim syntax file: recipes of finger-ring bands (*.annulet).
" To use it, put it into ~/.vim/syntax, and this line into ~/.vim/ftdetect/annulet.vim:
"   autocmd BufRead,BufNewFile *.annulet setfiletype annulet

if exists("b:current_syntax")
  finish
endif

" Names may hold hyphens and dots: `harvest-light.weight` is one word.
syntax iskeyword @,48-57,-,.,192-255

syntax keyword annuletBlock annulet use let alloy profile cutter band variant require rules prices shop stock order weighed made
syntax keyword annuletWord of by in meets where without

syntax match annuletField "\(^\|[{,]\)\s*\zs\a[-.[:alnum:]]*" contains=annuletBlock,annuletWord
syntax match annuletNumber "\<\d\+\(\.\d\+\)\?\(/\d\+\)\?" nextgroup=annuletUnit skipwhite
syntax match annuletUnit "\(%\|‰\|\(of\|by\|in\|meets\|where\|x\)\@!\a[[:alnum:]]*\(/\a[[:alnum:]]*\)\?\)" contained
syntax match annuletDay "\<\d\{4}-\d\{2}-\d\{2}\>"
syntax match annuletSize "\<\u\{2,3}\(-old\)\?\s\+[A-Z0-9][A-Z0-9./]*\(\s\+\d/\d\)\?"
syntax match annuletSign "±\|+/-\|\.\.\|[<>!]=\|[-+*/=<>]\ze\s"
syntax match annuletEscape "\\[\"\\]" contained
syntax region annuletText start=+"+ skip=+\\"+ end=+"+ oneline contains=annuletEscape
syntax match annuletComment "#.*$" contains=@Spell

highlight default link annuletBlock Keyword
highlight default link annuletWord Operator
highlight default link annuletSign Operator
highlight default link annuletField Identifier
highlight default link annuletNumber Number
highlight default link annuletUnit Type
highlight default link annuletDay Constant
highlight default link annuletSize Constant
highlight default link annuletText String
highlight default link annuletEscape SpecialChar
highlight default link annuletComment Comment

let b:current_syntax = "annulet"
