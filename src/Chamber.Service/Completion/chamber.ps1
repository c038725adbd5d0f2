# Tab completion of chamber for PowerShell: chamber completion powershell >> $PROFILE
Register-ArgumentCompleter -Native -CommandName chamber -ScriptBlock {
  param($word, $line, $position)
  chamber "[suggest:$position]" "$line" 2>$null | Where-Object { $_ -like "$word*" } | ForEach-Object {
    [System.Management.Automation.CompletionResult]::new($_, $_, 'ParameterValue', $_)
  }
}
