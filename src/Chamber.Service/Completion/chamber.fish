# Tab completion of chamber for fish: chamber completion fish > ~/.config/fish/completions/chamber.fish
complete -c chamber -a '(chamber "[suggest:"(string length (commandline -cp))"]" (commandline -cp) 2>/dev/null)'
