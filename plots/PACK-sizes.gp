# gnuplot PACK-sizes.gp draws PACK-sizes.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 490
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'PACK-sizes'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; wire: least, has, too small; device, A: from, to, to by exception, size, has, 0 none 1 well 2 by exception 3 outside
$sizes << EOD
11 3.75 25.00 0 3.45 15.00 0.00 15.00 15.00 1
10 4.25 NaN 0 3.91 15.00 0.00 15.00 NaN 0
9 6.00 NaN 0 5.52 15.00 0.00 15.00 NaN 0
8 13.75 25.00 0 12.65 30.00 40.00 30.00 30.00 1
7 9.50 NaN 0 8.74 20.00 30.00 20.00 NaN 0
6 17.50 25.00 0 16.10 35.00 50.00 35.00 100.00 3
5 42.50 65.00 0 39.10 90.00 125.00 90.00 90.00 1
4 33.75 50.00 0 31.05 50.00 60.00 50.00 50.00 1
3 NaN NaN 0 NaN NaN 0.00 NaN NaN 0
2 NaN NaN 0 NaN NaN 0.00 NaN NaN 0
1 191.21 255.00 0 182.71 225.00 300.00 225.00 225.00 1
EOD
set multiplot title 'Feeder PACK: sizes by NFPA 70-2023, and what is installed' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
set bmargin at screen 1 - 104.0/tall; set key width 0 maxrows 3
plot NaN with lines lw 3 lc rgb '#1a1a1a' title 'by the code', \
  NaN with boxxyerror fs solid 1 noborder fc rgb '#b0b0b0' title 'installed wire carries', \
  NaN with boxxyerror fs solid 1 noborder fc rgb '#b9d7aa' title 'device allowed', \
  NaN with boxxyerror fs solid 1 border lc rgb '#b9d7aa' fc rgb '#dcebd3' title 'only by exception', \
  NaN with points pt 7 ps 1.3*mark lc rgb '#334155' title 'installed device', \
  NaN with points pt 6 ps 1.4*mark lw 2.5 lc rgb '#334155' title 'installed, by exception', \
  NaN with points pt 13 ps 1.9*mark lc rgb '#b91c1c' title 'installed, outside'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
set grid xtics ytics lt 1 lw 0.7 lc rgb '#d5d5d5'
set tmargin at screen 1 - 142.0/tall; set bmargin at screen 62.0/tall
set lmargin at screen 182.0/wide; set rmargin at screen 549.0/wide
set title 'Wire installed, or (by the code)'; set xlabel 'Current, A'
set ytics nomirror out ('CV-1' 11, 'CV-2' 10, 'CV-3' 9, 'CV-4' 8, 'CV-5' 7, 'CV-6' 6, 'FAN-1' 5, 'FAN-2' 4, 'SORT-1 (local code)' 3, 'SORT-2 (local code)' 2, 'feeder PACK' 1)
set yrange [0.4:11.6]
set logscale x
set xrange [2.679:357.000]
set xtics nomirror out ('5' 5, '10' 10, '20' 20, '50' 50, '100' 100, '200' 200)
unset label
set label 1 '12 cu' at graph 1, first 11 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 2 '(14 cu)' at graph 1, first 10 left offset 0.8,0 font ',10' textcolor rgb '#7a7a7a'
set label 3 '(14 cu)' at graph 1, first 9 left offset 0.8,0 font ',10' textcolor rgb '#7a7a7a'
set label 4 '12 cu' at graph 1, first 8 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 5 '(14 cu)' at graph 1, first 7 left offset 0.8,0 font ',10' textcolor rgb '#7a7a7a'
set label 6 '12 cu' at graph 1, first 6 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 7 '6 cu' at graph 1, first 5 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 8 '8 cu' at graph 1, first 4 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 11 '250 cu' at graph 1, first 1 left offset 0.8,0 font ',10' textcolor rgb '#334155'
plot $sizes using ($4==0?2.679:NaN):1:(2.679):3:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b0b0b0' notitle, \
  $sizes using ($4==1?2.679:NaN):1:(2.679):3:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b91c1c' notitle, \
  $sizes using 2:($1-0.38):(0):(0.76) with vectors nohead lw 3 lc rgb '#1a1a1a' notitle
set lmargin at screen 691.0/wide; set rmargin at screen 1058.0/wide
set title 'Device installed, or (by the code)'; set xlabel 'Current, A'
set ytics nomirror out ('' 11, '' 10, '' 9, '' 8, '' 7, '' 6, '' 5, '' 4, '' 3, '' 2, '' 1)
set yrange [0.4:11.6]
set logscale x
set xrange [2.464:420.000]
set xtics nomirror out ('5' 5, '10' 10, '20' 20, '50' 50, '100' 100, '200' 200)
unset label
set label 1 '15 A breaker' at graph 1, first 11 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 2 '(15 A breaker)' at graph 1, first 10 left offset 0.8,0 font ',10' textcolor rgb '#7a7a7a'
set label 3 '(15 A breaker)' at graph 1, first 9 left offset 0.8,0 font ',10' textcolor rgb '#7a7a7a'
set label 4 '30 A breaker' at graph 1, first 8 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 5 '(20 A breaker)' at graph 1, first 7 left offset 0.8,0 font ',10' textcolor rgb '#7a7a7a'
set label 6 '100 A breaker' at graph 1, first 6 left offset 0.8,0 font ',10' textcolor rgb '#b91c1c'
set label 7 '90 A breaker' at graph 1, first 5 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 8 '50 A dual-el. fuse' at graph 1, first 4 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 11 '225 A breaker' at graph 1, first 1 left offset 0.8,0 font ',10' textcolor rgb '#334155'
plot $sizes using ($7>0?$6:NaN):1:6:7:($1-0.26):($1+0.26) with boxxyerror fs solid 1 border lc rgb '#b9d7aa' fc rgb '#dcebd3' notitle, \
  $sizes using 5:1:5:6:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b9d7aa' notitle, \
  $sizes using 8:($1-0.38):(0):(0.76) with vectors nohead lw 3 lc rgb '#1a1a1a' notitle, \
  $sizes using ($10==1?$9:NaN):1 with points pt 7 ps 1.3*mark lc rgb '#334155' notitle, \
  $sizes using ($10==2?$9:NaN):1 with points pt 6 ps 1.4*mark lw 2.5 lc rgb '#334155' notitle, \
  $sizes using ($10==3?$9:NaN):1 with points pt 13 ps 1.9*mark lc rgb '#b91c1c' notitle
unset multiplot
unset output
