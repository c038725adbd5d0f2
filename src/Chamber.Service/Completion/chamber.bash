# Tab completion of chamber for bash: chamber completion bash > ~/.local/share/bash-completion/completions/chamber
_chamber() {
  local IFS=$'\n'
  COMPREPLY=($(compgen -W "$(chamber "[suggest:$COMP_POINT]" "$COMP_LINE" 2>/dev/null)" -- "${COMP_WORDS[COMP_CWORD]}"))
}
complete -o default -F _chamber chamber
