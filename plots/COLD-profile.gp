# gnuplot COLD-profile.gp draws COLD-profile.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 790; tall = 552
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'COLD-profile'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# place; then in the order of the key, for each case: % of nominal volts; $plate: % of plate volts
$path << EOD
0 97.02 99.52 NaN 105.00
1 95.81 98.67 NaN 107.63
2 94.32 97.36 NaN 107.63
3 94.09 97.17 NaN 106.80
EOD
$plate << EOD
4 98.18 101.39 NaN 111.44
EOD
set multiplot title 'Feeder COLD: volts on the way to CP-2' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with filledcurves fs solid 1 noborder fc rgb '#dcebd3' title 'band of the plate', \
  NaN with linespoints pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with linespoints pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with linespoints pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
set tmargin at screen 1 - 96.0/tall; set bmargin at screen 126.0/tall
set lmargin at screen 110.0/wide; set rmargin at screen 1 - 30.0/wide
set ylabel 'Volts, %'; set xtics 1 nomirror out; set format x ''
set xrange [-0.5:4.5]; set yrange [88:114]
set ytics 5 nomirror out
set object 1 rectangle from 4-0.42, first 90.00 to 4+0.42, first 110.00 behind fs solid 1 noborder fc rgb '#dcebd3'
set arrow 1 from graph 0, first 100 to graph 1, first 100 nohead back dt 2 lc rgb '#7a7a7a'
set arrow 2 from 3.5, graph 0 to 3.5, graph 1 nohead back lw 1 lc rgb '#b0b0b0'
set label '% of plate' at first 4, graph 1 center offset 0,0.6 textcolor rgb '#555555'
set label '% of nominal' at first 3.0/2, graph 1 center offset 0,0.6 textcolor rgb '#555555'
set label '100 %' at screen 0.012, screen 88.0/tall left font ',10' textcolor rgb '#555555'
set label 'UTIL' at first 0, screen 108.0/tall center font ',10'
set label '13800 V' at first 0, screen 88.0/tall center font ',10' textcolor rgb '#555555'
set label 'T1' at first 1, screen 108.0/tall center font ',10'
set label '480 V' at first 1, screen 88.0/tall center font ',10' textcolor rgb '#555555'
set label 'COLD' at first 2, screen 108.0/tall center font ',10'
set label '480 V' at first 2, screen 88.0/tall center font ',10' textcolor rgb '#555555'
set label 'CP-2' at first 3, screen 108.0/tall center font ',10'
set label '480 V' at first 3, screen 88.0/tall center font ',10' textcolor rgb '#555555'
set label 'CP-2' at first 4, screen 108.0/tall center font ',10'
set label 'plate 460 V' at first 4, screen 88.0/tall center font ',10' textcolor rgb '#555555'
set label 'low' at screen 0.012, screen 68.0/tall left font ',10' textcolor rgb '#1f6fb4'
set label '13388' at first 0, screen 68.0/tall center font ',10' textcolor rgb '#1f6fb4'
set label '459.9' at first 1, screen 68.0/tall center font ',10' textcolor rgb '#1f6fb4'
set label '452.7' at first 2, screen 68.0/tall center font ',10' textcolor rgb '#1f6fb4'
set label '451.6' at first 3, screen 68.0/tall center font ',10' textcolor rgb '#1f6fb4'
set label '98.2 %' at first 4, screen 68.0/tall center font ',10' textcolor rgb '#1f6fb4'
set label 'nominal' at screen 0.012, screen 48.0/tall left font ',10' textcolor rgb '#1a1a1a'
set label '13734' at first 0, screen 48.0/tall center font ',10' textcolor rgb '#1a1a1a'
set label '473.6' at first 1, screen 48.0/tall center font ',10' textcolor rgb '#1a1a1a'
set label '467.3' at first 2, screen 48.0/tall center font ',10' textcolor rgb '#1a1a1a'
set label '466.4' at first 3, screen 48.0/tall center font ',10' textcolor rgb '#1a1a1a'
set label '101.4 %' at first 4, screen 48.0/tall center font ',10' textcolor rgb '#1a1a1a'
set label 'high' at screen 0.012, screen 28.0/tall left font ',10' textcolor rgb '#c2410c'
set label '14490' at first 0, screen 28.0/tall center font ',10' textcolor rgb '#c2410c'
set label '516.6' at first 1, screen 28.0/tall center font ',10' textcolor rgb '#c2410c'
set label '516.6' at first 2, screen 28.0/tall center font ',10' textcolor rgb '#c2410c'
set label '512.6' at first 3, screen 28.0/tall center font ',10' textcolor rgb '#c2410c'
set label '111.4 %' at first 4, screen 28.0/tall center font ',10' textcolor rgb '#c2410c'
plot $path using 1:2 with lines lw 2 lc rgb '#1f6fb4' notitle, \
  $path using 1:2 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $plate using 1:2 with points pt 10 ps 1.6*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $path using 1:3 with lines lw 2 lc rgb '#1a1a1a' notitle, \
  $path using 1:3 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $plate using 1:3 with points pt 7 ps 1.6*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $path using 1:5 with lines lw 2 lc rgb '#c2410c' notitle, \
  $path using 1:5 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle, \
  $plate using 1:5 with points pt 8 ps 1.6*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
