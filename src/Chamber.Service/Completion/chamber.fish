# Tab completion of chamber for fish: chamber completion fish > ~/.config/fish/completions/chamber.fish
complete -c chamber -a '(set -l line (commandline -cp | string trim --left); chamber "[suggest:"(string length -- $line)"]" $line 2>/dev/null)'
