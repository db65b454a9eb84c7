// SPDX-License-Identifier: Apache-2.0

package web

import "html/template"

// door is the page that asks for the access code.
var door = template.Must(template.New("door").Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Access code · Boardhand</title>
</head>
<body>
<h1>Boardhand</h1>
<form method="get" action="/">
<p><label for="code">{{.}}</label></p>
<p><input id="code" name="code" autocomplete="off" autocapitalize="characters" autofocus> <button>Open</button></p>
</form>
</body>
</html>
`))
